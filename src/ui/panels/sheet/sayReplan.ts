import type { CoatWork } from '../../../core/PlanResult.ts';
import type { CoatPlan } from '../../../core/plan/PlanDocument.ts';

/**
 * What the log has changed, one sentence a coat of one piece, from the rubber outward: coats that came out thinner or
 * thicker than planned, the coat that makes it up or saves it, and what of an open coat is on. Empty when all is as planned.
 *
 * @param work coats of one piece, in order.
 * @param length how a thickness is written; what reads the same counts as the same.
 */
export function sayReplan(
  work: readonly CoatWork[],
  coats: readonly Pick<CoatPlan, 'thicknessMm'>[],
  length: (mm: number) => string,
  mass: (g: number) => string,
): readonly string[] {
  const lines: string[] = [];
  let isOpenSeen = false;
  for (const { coat, name, isDone, laidG, toLayG, thicknessMm } of work) {
    const plannedMm = coats[coat]?.thicknessMm ?? thicknessMm;
    const differs = length(thicknessMm) !== length(plannedMm);
    const byMm = length(Math.abs(thicknessMm - plannedMm));
    const called = `Coat ${coat + 1}, ${name},`;
    if (isDone) {
      if (differs && laidG > 0) {
        const less = thicknessMm < plannedMm ? 'less' : 'more';
        lines.push(`${called} got ${byMm} ${less} than planned: ${length(thicknessMm)}.`);
      }
      continue;
    }
    if (!isOpenSeen && differs) {
      const how =
        thicknessMm > plannedMm ? 'makes it up' : thicknessMm > 0 ? 'saves it' : 'has nothing left to lay';
      lines.push(`${called} ${how}: ${length(thicknessMm)} in place of ${length(plannedMm)}.`);
    }
    if (laidG > 0) lines.push(`${called} has ${mass(laidG)} on; ${mass(toLayG)} to go.`);
    isOpenSeen = true;
  }
  return lines;
}
