import type { CastingResult } from '../core/PlanResult.ts';
import { formatForce, formatWeight, type UnitSystem } from '../core/units.ts';

type Holding = Pick<CastingResult, 'upliftN' | 'holdingWeightN'>;

/** What holds a filled mould on its board: "shell and rubber weigh 2.79 kg", and whether the fill presses them down besides. */
export function sayHolding({ upliftN, holdingWeightN }: Holding, system: UnitSystem): string {
  const weight = `shell and rubber weigh ${formatWeight(holdingWeightN, system)}`;
  return -upliftN > holdingWeightN ? `${weight}, and the fill presses them down` : weight;
}

/** Of a mould that does not lift: "stays down, 62.8 N to spare: shell and rubber weigh 2.79 kg". */
export function sayHeldDown(casting: Holding, system: UnitSystem): string {
  return `stays down, ${formatForce(-casting.upliftN, system)} to spare: ${sayHolding(casting, system)}`;
}
