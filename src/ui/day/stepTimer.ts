import type { BatchResult, CoatWork, TaskResult } from '../../core/PlanResult.ts';
import type { CoatPlan } from '../../core/plan/PlanDocument.ts';
import { timerId } from '../../session/timers.ts';

/** What a countdown of a job is called and how long it runs, minutes. Another under the same id takes its place. */
export interface StepTimer {
  readonly id: string;
  readonly label: string;
  readonly minutes: number;
}

type NamedBatch = Pick<BatchResult, 'piece' | 'coat' | 'coatNumber' | 'number' | 'workingTimeMin'>;

/** Runs down from the moment the parts meet: by its end the batch must be on the wall. */
export function workingTimer(job: string, batch: NamedBatch, pieceName: string): StepTimer {
  return {
    id: timerId(job, `working ${batch.piece}/${batch.coatNumber}/${batch.number}`),
    label: `${pieceName}, ${batch.coat}, batch ${batch.number}: working time`,
    minutes: batch.workingTimeMin,
  };
}

/**
 * Runs from the last batch of a coat until the next coat may go on, or until the shims may come out after the last one.
 * The user's own wait stands before the system's cure.
 */
export function cureTimer(
  job: string,
  work: Pick<CoatWork, 'piece' | 'pieceName' | 'coat' | 'name' | 'times'>,
  coats: readonly Pick<CoatPlan, 'name' | 'waitMin'>[],
): StepTimer {
  const next = coats[work.coat + 1];
  const { fullCureMin, partialCureMin } = work.times;
  return {
    id: cureTimerId(job, work.piece, work.coat),
    label: next
      ? `${work.pieceName}, ${work.name}: partial cure, then ${next.name}`
      : `${work.pieceName}: full cure, then the shims`,
    minutes: coats[work.coat]?.waitMin ?? (next ? partialCureMin : fullCureMin),
  };
}

/** Id of the countdown of a coat's cure. */
export function cureTimerId(job: string, piece: string, coat: number): string {
  return timerId(job, `cure ${piece}/${coat}`);
}

/** The countdown of a step of the schedule: of a batch its working time, of anything else as long as the schedule gives it. */
export function stepTimer(
  job: string,
  task: TaskResult,
  batches: readonly NamedBatch[],
  pieceName: (id: string) => string,
): StepTimer {
  const batch = batches.find(
    ({ piece, coatNumber, number }) =>
      task.kind === 'batch' &&
      piece === task.piece &&
      coatNumber === task.coatNumber &&
      number === task.batch,
  );
  if (batch) return workingTimer(job, batch, pieceName(batch.piece));
  return { id: timerId(job, task.id), label: task.what, minutes: task.endMin - task.startMin };
}
