import { coatMix } from '../../material/coatMix.ts';
import type { BatchResult, CoatWork } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { partKey } from './partsToBuy.ts';

/** What one batch takes; or one coat, of which no batch could be planned. */
export interface MixUse {
  readonly work: CoatWork;
  /** Mass that goes into the bucket, g, by the part's key. */
  readonly massByKeyG: ReadonlyMap<string, number>;
}

/**
 * All that is mixed for the shell, in the order of the work, losses counted: logged batches at their true weight, open
 * ones as they are weighed. What of a coat has no batch, since none can be planned, counts with its share of losses, so
 * that it is bought all the same; so does a coat that was closed without a weight in the log, as planned.
 */
export function listUses(
  plan: Pick<PlanDocument, 'coats' | 'material' | 'otherMaterials'>,
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
): MixUse[] {
  return work.flatMap((one) => {
    const { system, mix } = coatMix(plan, plan.coats[one.coat]);
    const byShare = (massG: number): Map<string, number> =>
      new Map(
        Object.entries(mix.shares).map(([name, share]) => [partKey(system.id, name), share * massG] as const),
      );
    const uses: MixUse[] = [];
    let hasOpen = false;
    for (const batch of batches) {
      if (batch.piece !== one.piece || batch.coatNumber !== one.coat) continue;
      if (batch.loggedG !== null) {
        uses.push({ work: one, massByKeyG: byShare(batch.loggedG) });
        continue;
      }
      hasOpen = true;
      const weighed = Object.entries(batch.componentsG);
      uses.push({
        work: one,
        massByKeyG: new Map(weighed.map(([name, massG]) => [partKey(system.id, name), massG] as const)),
      });
    }
    const isUnlogged = one.isDone && uses.length === 0;
    const unplannedG = isUnlogged ? one.massG : hasOpen ? 0 : one.toLayG;
    if (unplannedG > 0) {
      uses.push({ work: one, massByKeyG: byShare(unplannedG * (1 + system.lossShare)) });
    }
    return uses;
  });
}
