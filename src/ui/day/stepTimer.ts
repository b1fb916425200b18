import type { BatchResult, CoatWork, TaskResult } from '../../core/PlanResult.ts';
import type { CoatPlan } from '../../core/plan/PlanDocument.ts';

/** What a countdown is called and how long it runs, minutes. Another under the same id takes its place. */
export interface StepTimer {
  readonly id: string;
  readonly label: string;
  readonly minutes: number;
}

type NamedBatch = Pick<BatchResult, 'piece' | 'coat' | 'coatNumber' | 'number' | 'workingTimeMin'>;

/** Runs down from the moment the parts meet: by its end the batch must be on the wall. */
export function workingTimer(batch: NamedBatch, pieceName: string): StepTimer {
  return {
    id: `working ${batch.piece}/${batch.coatNumber}/${batch.number}`,
    label: `${pieceName}, ${batch.coat}, batch ${batch.number}: working time`,
    minutes: batch.workingTimeMin,
  };
}

/**
 * Runs from the last batch of a coat until the next coat may go on, or until the shims may come out after the last one.
 * The user's own wait stands before the system's cure.
 */
export function cureTimer(
  work: Pick<CoatWork, 'piece' | 'pieceName' | 'coat' | 'name' | 'times'>,
  coats: readonly Pick<CoatPlan, 'name' | 'waitMin'>[],
): StepTimer {
  const next = coats[work.coat + 1];
  const { fullCureMin, partialCureMin } = work.times;
  return {
    id: `cure ${work.piece}/${work.coat}`,
    label: next
      ? `${work.pieceName}, ${work.name}: partial cure, then ${next.name}`
      : `${work.pieceName}: full cure, then the shims`,
    minutes: coats[work.coat]?.waitMin ?? (next ? partialCureMin : fullCureMin),
  };
}

/** The countdown of a step of the schedule: of a batch its working time, of anything else as long as the schedule gives it. */
export function stepTimer(
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
  if (batch) return workingTimer(batch, pieceName(batch.piece));
  return { id: task.id, label: task.what, minutes: task.endMin - task.startMin };
}
