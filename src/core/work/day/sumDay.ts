import type { DayResult, TaskResult } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { DAY_MIN } from './WorkHours.ts';

/**
 * Sums of a schedule, on the clock: minutes in which somebody is at work (however many), minutes in which nobody is
 * while something dries or cures, days on which somebody works. An empty schedule: zeros.
 */
export function sumDay(
  schedule: readonly TaskResult[],
  plan: Pick<PlanDocument, 'day' | 'bench'>,
): DayResult {
  const attended = schedule.filter((task) => task.attended);
  const attendedMin = coveredMin(attended);
  const days = new Set(attended.map(({ startMin }) => Math.floor(startMin / DAY_MIN)));
  return {
    startDate: plan.day.startDate,
    endMin: schedule.reduce((latest, { endMin }) => Math.max(latest, endMin), 0),
    attendedMin,
    unattendedMin: coveredMin(schedule) - attendedMin,
    days: days.size,
    hands: plan.bench.hands,
  };
}

/** Minutes that at least one of the steps covers. */
function coveredMin(tasks: readonly TaskResult[]): number {
  let sum = 0;
  let reachedMin = Number.NEGATIVE_INFINITY;
  for (const { startMin, endMin } of tasks.toSorted((a, b) => a.startMin - b.startMin)) {
    if (endMin <= reachedMin) continue;
    sum += endMin - Math.max(startMin, reachedMin);
    reachedMin = endMin;
  }
  return sum;
}
