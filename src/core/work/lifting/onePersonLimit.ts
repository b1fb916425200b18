import type { LiftingPlan } from '../../plan/PlanDocument.ts';
import { couplingMultiplier } from './couplingMultiplier.ts';
import { frequencyMultiplier } from './frequencyMultiplier.ts';
import { METRIC_LIFTING, weightLimit } from './weightLimit.ts';

/** Hands in front of the ankles for a load of depth W held before the body, cm: 20 + W/2, and 25 + W/2 with the hands lower than this. NIOSH 94-110, from memory. */
const LOW_HANDS_CM = 25;

/**
 * Recommended weight limit for one person, kg: the lesser of the lift's beginning and its end, as a shell has to be set down with care.
 * 0 where the equation ends at either.
 *
 * @param depthMm of the load in front of the body; used where the plan leaves the reach to the tool.
 */
export function onePersonLimit(lifting: LiftingPlan, depthMm: number): number {
  const distance = Math.abs(lifting.toMm - lifting.fromMm) / 10;
  const at = (handsMm: number): number => {
    const vertical = handsMm / 10;
    return weightLimit(
      {
        horizontal: reachCm(lifting, vertical, depthMm),
        vertical,
        distance,
        asymmetryDeg: lifting.asymmetryDeg,
        frequencyMultiplier: frequencyMultiplier(lifting.liftsPerMin, vertical),
        couplingMultiplier: couplingMultiplier(lifting.grip, vertical),
      },
      METRIC_LIFTING,
    );
  };
  return Math.min(at(lifting.fromMm), at(lifting.toMm));
}

function reachCm(lifting: LiftingPlan, verticalCm: number, depthMm: number): number {
  if (lifting.horizontalMm !== 'auto') return lifting.horizontalMm / 10;
  return (verticalCm < LOW_HANDS_CM ? 25 : 20) + depthMm / 10 / 2;
}
