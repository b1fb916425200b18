import type { BatchResult } from '../../core/PlanResult.ts';
import type { Timer } from '../../session/timers.ts';
import { workingTimer } from './stepTimer.ts';

/** Minutes of laying so far, by the batch's own clock less the mixing, to a tenth; null when its clock was not started. */
export function layMinOf(
  job: string,
  batch: BatchResult,
  timers: readonly Timer[],
  nowMs: number,
): number | null {
  const { id } = workingTimer(job, batch, '');
  const timer = timers.find((one) => one.id === id);
  if (!timer) return null;
  const minutes = Number(((nowMs - timer.startMs) / 60_000 - batch.mixMin).toFixed(1));
  return minutes > 0 ? minutes : null;
}
