import { expect } from 'vitest';
import type { DayPlan } from '../../../../src/core/plan/PlanDocument.ts';
import { assignHands } from '../../../../src/core/work/day/assignHands.ts';
import type { DayTask } from '../../../../src/core/work/day/DayTask.ts';
import type { TaskTimes } from '../../../../src/core/work/day/scheduleTasks.ts';

const DAY_MIN = 24 * 60;

/**
 * Every rule of a schedule, looked at step by step and minute by minute as it is defined, with nothing of the scheduler's own
 * code: waits, hours, weekends, hands, limits (kept, or named as missed), and one person's steps one after the other.
 */
export function expectKeptRules(
  tasks: readonly DayTask[],
  hands: number,
  day: Pick<DayPlan, 'startDate' | 'fromMin' | 'toMin' | 'weekends'>,
  { startsMin, missed }: TaskTimes,
): void {
  const endOf = (id: string): number => {
    const n = tasks.findIndex((task) => task.id === id);
    return startsMin[n] + tasks[n].minutes;
  };
  for (const [n, task] of tasks.entries()) {
    const readyMin = Math.max(task.soonestMin, ...task.after.map(endOf));
    expect(startsMin[n], `${task.id} after what it waits for`).toBeGreaterThanOrEqual(readyMin);
    if (task.hands === 0) {
      expect(startsMin[n], `${task.id} begins by itself`).toBe(readyMin);
      continue;
    }
    const dayNumber = Math.floor(startsMin[n] / DAY_MIN);
    const fromMidnight = startsMin[n] - dayNumber * DAY_MIN;
    expect(fromMidnight).toBeGreaterThanOrEqual(day.fromMin);
    if (task.minutes > day.toMin - day.fromMin) expect(fromMidnight).toBe(day.fromMin);
    else expect(fromMidnight + task.minutes).toBeLessThanOrEqual(day.toMin);
    const first = day.startDate === null ? 1 : new Date(`${day.startDate}T12:00:00Z`).getUTCDay();
    if (!day.weekends) expect([0, 6]).not.toContain((first + dayNumber) % 7);
    for (const limit of task.limits) {
      const isLate = startsMin[n] > endOf(limit.of) + limit.withinMin;
      const isNamed = missed.some((one) => one.task === n && one.limit === limit);
      expect(isNamed, `${task.id} within ${limit.withinMin} of ${limit.of}`).toBe(isLate);
    }
  }
  const attended = tasks.flatMap((task, n) => (task.hands > 0 ? [n] : []));
  for (const n of attended) {
    const atMin = startsMin[n];
    const used = attended
      .filter((k) => startsMin[k] <= atMin && startsMin[k] + tasks[k].minutes > atMin)
      .reduce((sum, k) => sum + tasks[k].hands, 0);
    expect(used, `hands when ${tasks[n].id} begins`).toBeLessThanOrEqual(hands);
  }
  const who = assignHands(tasks, startsMin, hands);
  for (const [n, task] of tasks.entries()) {
    if (task.hands === 0) expect(who[n]).toBeNull();
    else expect(who[n]).toBeGreaterThanOrEqual(1);
    if (who[n] !== null) expect(who[n]).toBeLessThanOrEqual(hands);
  }
  for (const a of attended) {
    for (const b of attended) {
      if (a >= b) continue;
      const isApart =
        startsMin[a] + tasks[a].minutes <= startsMin[b] || startsMin[b] + tasks[b].minutes <= startsMin[a];
      if (!isApart) expect(who[a], `${tasks[a].id} beside ${tasks[b].id}`).not.toBe(who[b]);
    }
  }
}
