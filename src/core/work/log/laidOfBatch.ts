import type { MaterialSystem } from '../../material/MaterialSystem.ts';
import type { LoggedBatch } from '../../plan/PlanDocument.ts';

/**
 * What of a logged batch went on the wall, g. Where the rest was weighed it stands for all that did not: mixed less left.
 * Otherwise the losses are taken as planned: mixed = laid x (1 + lossShare) + lossPerBatchG.
 */
export function laidOfBatch(
  batch: Pick<LoggedBatch, 'mixedG' | 'leftG'>,
  system: Pick<MaterialSystem, 'lossShare' | 'lossPerBatchG'>,
): number {
  if (batch.leftG !== null) return Math.max(0, batch.mixedG - batch.leftG);
  return Math.max(0, (batch.mixedG - system.lossPerBatchG) / (1 + system.lossShare));
}
