import type { BatchResult, CoatWork } from '../../PlanResult.ts';
import { batchTaskId } from './batchTaskId.ts';
import type { StartLimit } from './DayTask.ts';

/** Shares of an area are sums of floating numbers; where two batches meet, the earlier one must not win by a rounding. */
const SHARE_SLACK = 1e-9;

/**
 * How soon a batch must begin so that it still bonds with the coat below; none when the system names no latest time,
 * or what lies below it is laid already.
 *
 * Both coats are laid over the piece in the same order. The batch begins where its share of the area begins, and the
 * batch of the coat below that covers that spot is what it must come upon in time, counted from that one's end.
 */
export function bondLimits(
  coatBelow: CoatWork | undefined,
  below: readonly BatchResult[],
  own: readonly BatchResult[],
  batch: BatchResult,
): StartLimit[] {
  const latestMin = coatBelow?.times.latestOvercoatMin ?? null;
  if (latestMin === null || below.length === 0) return [];
  const beginsAt = sharesUpTo(own)[own.indexOf(batch)] ?? 0;
  const shares = sharesUpTo(below);
  let under = below[0];
  for (const [n, other] of below.entries()) if (shares[n] <= beginsAt + SHARE_SLACK) under = other;
  if (coatBelow?.isDone || under.loggedG !== null) return [];
  return [{ of: batchTaskId(under), withinMin: Math.floor(latestMin), why: 'bond' }];
}

/** Share of the area that is covered before each batch. */
function sharesUpTo(batches: readonly BatchResult[]): number[] {
  const whole = batches.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
  let sofar = 0;
  return batches.map(({ areaMm2 }) => {
    const share = whole > 0 ? sofar / whole : 0;
    sofar += areaMm2;
    return share;
  });
}
