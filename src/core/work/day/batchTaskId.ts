import type { BatchResult } from '../../PlanResult.ts';

/** Id of the step in which a batch is mixed and laid: the same as long as piece, coat and number are. */
export function batchTaskId(batch: Pick<BatchResult, 'piece' | 'coatNumber' | 'number'>): string {
  return `${batch.piece}/coat${batch.coatNumber + 1}/batch${batch.number}`;
}
