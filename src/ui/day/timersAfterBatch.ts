import type { BatchResult, PlanResult } from '../../core/PlanResult.ts';
import type { CoatPlan } from '../../core/plan/PlanDocument.ts';
import { startTimer, stopTimer, type Timer } from '../../session/timers.ts';
import { cureTimer, workingTimer } from './stepTimer.ts';

/** The batch is on the wall at `nowMs`: its own clock has done its work, and after the coat's last one the cure begins. */
export function timersAfterBatch(
  job: string,
  timers: readonly Timer[],
  batch: BatchResult,
  { batches, coatWork }: Pick<PlanResult, 'batches' | 'coatWork'>,
  coats: readonly Pick<CoatPlan, 'name' | 'waitMin'>[],
  nowMs: number,
): readonly Timer[] {
  const left = stopTimer(timers, workingTimer(job, batch, '').id);
  const isLast = !batches.some(
    (one) =>
      one.piece === batch.piece &&
      one.coatNumber === batch.coatNumber &&
      one.loggedG === null &&
      one.number !== batch.number,
  );
  const work = coatWork.find((one) => one.piece === batch.piece && one.coat === batch.coatNumber);
  return isLast && work ? startTimer(left, cureTimer(job, work, coats), nowMs) : left;
}
