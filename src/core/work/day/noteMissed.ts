import type { WorkNote } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { DayTask } from './DayTask.ts';
import { sayMinutes } from './sayMinutes.ts';
import type { TaskTimes } from './scheduleTasks.ts';

/** One note for each coat that cannot meet the one below while it still bonds: why, and what to do. */
export function noteMissed(
  plan: PlanDocument,
  tasks: readonly DayTask[],
  missed: TaskTimes['missed'],
): WorkNote[] {
  const notes = new Map<string, WorkNote>();
  for (const { task, limit } of missed) {
    const { piece, coat, coatNumber, what } = tasks[task];
    const key = `${piece}/${coatNumber}`;
    if (limit.why !== 'bond' || notes.has(key)) continue;
    const waitMin = tasks
      .filter(
        (other) =>
          other.kind === 'cure' && other.piece === piece && other.coatNumber === (coatNumber ?? 0) - 1,
      )
      .reduce((most, { minutes }) => Math.max(most, minutes), 0);
    const within = sayMinutes(limit.withinMin);
    const reason =
      waitMin > limit.withinMin
        ? `must wait ${sayMinutes(waitMin)} for the coat below and yet be on within ${within} of it: look at these times in the material system.`
        : `cannot be begun within ${within} of the coat below, whenever the work begins: laying and curing take longer, or the working day ends before. Longer hours${plan.bench.hands > 1 ? '' : ', more hands'} or smaller pieces would hold it.`;
    notes.set(key, {
      code: 'window-missed',
      piece,
      coat: coatNumber,
      text: `${what.replace(/, batch .*$/, '')}: ${coat ?? 'the coat'} ${reason} As it stands, key the coat below and clean it before this one goes on, if the product's data sheet allows that.`,
    });
  }
  return [...notes.values()];
}
