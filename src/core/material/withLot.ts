import type { MaterialLot, MaterialSystem } from './MaterialSystem.ts';

/** The system with this lot's measured values in use: in the place of what was known of the lot, or behind the others. */
export function withLot(system: MaterialSystem, lot: MaterialLot): MaterialSystem {
  const isKnown = system.lots.some((one) => one.lot === lot.lot);
  const lots = isKnown ? system.lots.map((one) => (one.lot === lot.lot ? lot : one)) : [...system.lots, lot];
  return { ...system, lots, lotInUse: lot.lot };
}
