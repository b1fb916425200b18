import type { CoatWork, WorkNote } from '../../PlanResult.ts';
import { sayCoat } from '../sayCoat.ts';
import type { DayTask } from './DayTask.ts';
import { sayMinutes } from './sayMinutes.ts';
import type { TaskTimes } from './scheduleTasks.ts';

/** One note for each coat that cannot meet the one below while it still bonds: why, and what to do. */
export function noteMissed(
  work: readonly CoatWork[],
  tasks: readonly DayTask[],
  missed: TaskTimes['missed'],
): WorkNote[] {
  const notes = new Map<CoatWork, WorkNote>();
  for (const { task, limit } of missed) {
    const { piece, coatNumber } = tasks[task];
    const coat = work.find((one) => one.piece === piece && one.coat === coatNumber);
    if (limit.why !== 'bond' || coat === undefined || notes.has(coat)) continue;
    const waitMin = tasks
      .filter((other) => other.kind === 'cure' && other.piece === piece && other.coatNumber === coat.coat - 1)
      .reduce((most, { minutes }) => Math.max(most, minutes), 0);
    const within = sayMinutes(limit.withinMin);
    const why =
      waitMin > limit.withinMin
        ? `must wait ${sayMinutes(waitMin)} for the coat below and yet be on within ${within} of it. Look at these two times in the material system.`
        : `cannot be on within ${within} of the coat below, whenever the work begins: laying and curing take longer, or the working day ends before. Longer hours, more hands or smaller pieces would hold it.`;
    notes.set(coat, {
      code: 'window-missed',
      piece,
      coat: coatNumber,
      text: `${sayCoat(coat)} ${why} As it stands, key the coat below and clean it before this one goes on, if the product's data sheet allows that.`,
    });
  }
  return [...notes.values()];
}
