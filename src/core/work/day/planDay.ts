import type { BatchResult, CoatWork, DayResult, TaskResult, WorkNote } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { WorkGround } from '../WorkGround.ts';
import { assignHands } from './assignHands.ts';
import { buildTasks } from './buildTasks.ts';
import type { DayTask } from './DayTask.ts';
import { LogClock } from './LogClock.ts';
import { noteMissed } from './noteMissed.ts';
import { sayMinutes } from './sayMinutes.ts';
import { scheduleTasks } from './scheduleTasks.ts';
import { sumDay } from './sumDay.ts';
import { WorkHours } from './WorkHours.ts';

/**
 * What is still to be done and when, in the order of the clock; what the day takes; and notes on what the hours cannot hold:
 * 'window-missed' (a coat that cannot be laid while the one below still bonds) and 'day-too-short' (a step or a coat
 * longer than a working day). Which steps there are and what they wait for: `buildTasks`; how they are placed:
 * `scheduleTasks`.
 *
 * Throws PlanError 'bad-plan' when the working hours are none. Cost: a few milliseconds for a hundred steps.
 */
export function planDay(
  plan: PlanDocument,
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
  ground: WorkGround,
): { readonly schedule: TaskResult[]; readonly day: DayResult; readonly notes: WorkNote[] } {
  const hours = new WorkHours(plan.day);
  const clock = new LogClock(plan, hours);
  const { tasks, notes } = buildTasks(plan, work, batches, ground, hours, clock);
  const { startsMin, missed } = scheduleTasks(tasks, plan.bench.hands, hours);
  const who = assignHands(tasks, startsMin, plan.bench.hands);
  const endsMin = new Map(tasks.map(({ id, minutes }, n) => [id, startsMin[n] + minutes]));
  const waits = new Set(tasks.filter(({ hands }) => hands === 0).map(({ id }) => id));
  const schedule = tasks
    .map((task, n): TaskResult => {
      const bonds = task.limits.filter(({ why }) => why === 'bond');
      const waited = task.after.filter((id) => waits.has(id));
      return {
        id: task.id,
        what: task.what,
        kind: task.kind,
        piece: task.piece,
        coat: task.coat,
        coatNumber: task.coatNumber,
        batch: task.batch,
        startMin: startsMin[n],
        endMin: startsMin[n] + task.minutes,
        attended: task.hands > 0,
        who: who[n],
        after: task.after,
        soonestMin:
          task.hands > 0 && waited.length > 0 ? Math.max(...waited.map((id) => endsMin.get(id) ?? 0)) : null,
        latestMin:
          bonds.length > 0
            ? Math.min(...bonds.map(({ of, withinMin }) => (endsMin.get(of) ?? 0) + withinMin))
            : null,
      };
    })
    // Stable: of steps that begin together the one stands first that was built first.
    .sort((a, b) => a.startMin - b.startMin);
  return {
    schedule,
    day: sumDay(schedule, plan),
    notes: [
      ...notes,
      ...noteOrder(plan, ground),
      ...noteLong(tasks, hours),
      ...noteMissed(work, tasks, missed),
    ],
  };
}

/** Pieces that the order names and the plan does not have. */
function noteOrder(plan: PlanDocument, ground: WorkGround): WorkNote[] {
  const strays = plan.day.order.filter((id) => !ground.pieces.some((piece) => piece.id === id));
  if (strays.length === 0) return [];
  return [
    {
      code: 'order-stray',
      piece: null,
      coat: null,
      text: `The order of the pieces (“day.order”) names ${strays.map((id) => `“${id}”`).join(', ')}; the pieces are ${ground.pieces.map(({ id }) => id).join(', ')}. What it does not name is built as listed; correct the order.`,
    },
  ];
}

function noteLong(tasks: readonly DayTask[], hours: WorkHours): WorkNote[] {
  return tasks
    .filter(({ hands, minutes }) => hands > 0 && minutes > hours.lengthMin)
    .map(({ what, minutes, piece, coatNumber }) => ({
      code: 'day-too-short',
      piece,
      coat: coatNumber,
      text: `${what}: takes ${sayMinutes(minutes)}, the working day has ${sayMinutes(hours.lengthMin)}. It is put at the beginning of a day and runs past its end; give the day longer hours, or the step fewer minutes.`,
    }));
}
