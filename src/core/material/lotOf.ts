import type { MaterialLot, MaterialSystem } from './MaterialSystem.ts';

/** The lot whose measured values stand before the system's own, or undefined when none is in use. */
export function lotOf(system: Pick<MaterialSystem, 'lots' | 'lotInUse'>): MaterialLot | undefined {
  return system.lots.find((one) => one.lot === system.lotInUse);
}
