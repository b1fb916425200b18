import type { CoatWork, ProbeResult } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { totalThicknessMm } from '../../plan/totalThicknessMm.ts';

/** The pin's opinion of what the log says is on the wall. */
export interface ProbeComparison {
  readonly coatsOn: number;
  /** Mean of measured over predicted thickness; 1: as predicted. */
  readonly meanRatio: number;
  readonly count: number;
}

/**
 * Measured over predicted thickness with as many coats on, for each number of coats that was measured. Predicted is what
 * is predicted there for the whole shell, in the proportion of what those coats come to on this piece by the log: what was
 * weighed, or as planned.
 * Limits: coats thicken in hollows unlike on bumps, so that a proportion of the whole is rough for the first coats. It is a
 * second opinion and changes no amount.
 */
export function compareProbes(
  plan: Pick<PlanDocument, 'coats'>,
  work: readonly CoatWork[],
  probes: readonly ProbeResult[],
): ProbeComparison[] {
  const wholeMm = totalThicknessMm(plan.coats);
  const sums = new Map<number, { ratio: number; count: number }>();
  for (const probe of probes) {
    for (const { coatsOn, thicknessMm } of probe.measured) {
      let onMm = 0;
      for (const coat of work) {
        if (coat.piece === probe.piece && coat.coat < coatsOn) onMm += coat.thicknessMm;
      }
      const predictedMm = (probe.predictedMm * onMm) / wholeMm;
      if (!(predictedMm > 0)) continue;
      const sum = sums.get(coatsOn) ?? { ratio: 0, count: 0 };
      sum.ratio += thicknessMm / predictedMm;
      sum.count++;
      sums.set(coatsOn, sum);
    }
  }
  return [...sums]
    .sort(([a], [b]) => a - b)
    .map(([coatsOn, { ratio, count }]) => ({ coatsOn, meanRatio: ratio / count, count }));
}
