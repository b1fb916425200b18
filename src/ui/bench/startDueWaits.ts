import type { PlanResult } from '../../core/PlanResult.ts';
import type { CoatPlan } from '../../core/plan/PlanDocument.ts';
import { startTimer, type Timer } from '../../session/timers.ts';
import { waitTimer } from './waitTimer.ts';

/**
 * The timers after the step `id` was done at `nowMs`: what waits for it and for nothing else that is still to do begins by
 * itself. A clock that runs already runs on.
 *
 * @param doneIds steps that were done before it.
 */
export function startDueWaits(
  job: string,
  timers: readonly Timer[],
  id: string,
  doneIds: ReadonlySet<string>,
  result: Pick<PlanResult, 'schedule' | 'coatWork'>,
  coats: readonly Pick<CoatPlan, 'name' | 'waitMin'>[],
  nowMs: number,
): readonly Timer[] {
  const known = new Set(result.schedule.map((task) => task.id));
  let next = timers;
  for (const task of result.schedule) {
    if (task.attended || !task.after.includes(id) || doneIds.has(task.id)) continue;
    const isFree = task.after.every((one) => one === id || doneIds.has(one) || !known.has(one));
    const timer = waitTimer(job, task, result, coats);
    if (isFree && !next.some((one) => one.id === timer.id)) next = startTimer(next, timer, nowMs);
  }
  return next;
}
