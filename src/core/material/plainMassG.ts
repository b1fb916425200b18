import type { MaterialSystem } from './MaterialSystem.ts';
import { mixOf } from './mixOf.ts';

const MM3_PER_CM3 = 1000;

/** Mass of a volume of rubber or filler, g: the system mixed without additives and reinforcement. */
export function plainMassG(system: MaterialSystem, volumeMm3: number): number {
  const { densityGPerCm3 } = mixOf(system, { kind: 'build', additives: [], reinforcementShare: 0 });
  return (volumeMm3 / MM3_PER_CM3) * densityGPerCm3;
}
