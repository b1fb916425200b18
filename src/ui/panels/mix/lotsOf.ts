import type { MaterialLot } from '../../../core/material/MaterialSystem.ts';
import type { FinishedJob } from '../../../session/FinishedJob.ts';

/** Lots of a system that finished jobs measured; of one lot the values of the newest job, which stands first. */
export function lotsOf(jobs: readonly Pick<FinishedJob, 'lots'>[], systemId: string): readonly MaterialLot[] {
  const byLot = new Map<string, MaterialLot>();
  for (const { lots } of jobs) {
    for (const one of lots) {
      if (one.systemId === systemId && !byLot.has(one.lot.lot)) byLot.set(one.lot.lot, one.lot);
    }
  }
  return [...byLot.values()];
}
