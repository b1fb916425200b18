import { coatSystem } from '../../material/coatMix.ts';
import type { BatchResult, CoatWork } from '../../PlanResult.ts';
import type { CoatKind, LoggedBatch, PlanDocument } from '../../plan/PlanDocument.ts';
import { COAT_KINDS } from '../../plan/PlanDocument.ts';
import { laidOfBatch } from './laidOfBatch.ts';
import { type Median, takeMedian } from './takeMedian.ts';

/** From fewer batches nothing is offered: one odd batch out of two would be half of the truth. Own choice. */
export const LEAST_BATCHES = 3;

const CM2_PER_MM2 = 0.01;

export type BatchName = Pick<LoggedBatch, 'piece' | 'coat' | 'number'>;

/** What the log of a job says of the shop, to be offered for the next job. */
export interface LogLessons {
  /** What stays in the bucket, g a batch, of the plan's own system; null below LEAST_BATCHES weighed. */
  readonly wastePerBatchG: Median<BatchName> | null;
  /** Area that one pair of hands lays up in a minute, cm2; only kinds of coat with at least LEAST_BATCHES timed. */
  readonly paceCm2PerMin: Readonly<Partial<Record<CoatKind, Median<BatchName>>>>;
  /** Says of how many timed batches mixing and laying took longer than the working time; null when of none. */
  readonly workingNote: string | null;
}

/**
 * The shop's own waste and pace as medians over the logged batches. A batch's area is its share, by what was laid, of the
 * coat's area; all hands of the bench are taken to have laid it.
 *
 * @param batches as planned with this log; gives each logged one its working and mixing time.
 */
export function learnFromLog(
  plan: PlanDocument,
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
): LogLessons {
  const wastes: { of: BatchName; value: number }[] = [];
  const paces: Record<CoatKind, { of: BatchName; value: number }[]> = {
    face: [],
    build: [],
    reinforced: [],
    finish: [],
  };
  let timed = 0;
  let late = 0;
  for (const logged of plan.log.batches) {
    const coat = work.find((one) => one.piece === logged.piece && one.coat === logged.coat);
    // A batch of a piece or a coat that the plan has no longer says nothing of it.
    if (!coat) continue;
    const of = { piece: logged.piece, coat: logged.coat, number: logged.number };
    const system = coatSystem(plan, plan.coats[logged.coat]);
    if (logged.leftG !== null && system === plan.material) wastes.push({ of, value: logged.leftG });
    if (logged.layMin === null) continue;
    const wholeG = coat.isDone ? coat.laidG : coat.laidG + coat.toLayG;
    const areaMm2 = wholeG > 0 ? (coat.areaMm2 * laidOfBatch(logged, system)) / wholeG : 0;
    if (areaMm2 > 0) {
      paces[coat.kind].push({ of, value: (areaMm2 * CM2_PER_MM2) / (logged.layMin * plan.bench.hands) });
    }
    const planned = batches.find(
      (one) => one.piece === logged.piece && one.coatNumber === logged.coat && one.number === logged.number,
    );
    if (!planned) continue;
    timed++;
    if (planned.mixMin + logged.layMin > planned.workingTimeMin) late++;
  }
  const paceCm2PerMin: Partial<Record<CoatKind, Median<BatchName>>> = {};
  for (const kind of COAT_KINDS) {
    const pace = medianOfEnough(paces[kind]);
    if (pace) paceCm2PerMin[kind] = pace;
  }
  return {
    wastePerBatchG: medianOfEnough(wastes),
    paceCm2PerMin,
    workingNote:
      late === 0
        ? null
        : `${late} of ${timed} timed ${timed === 1 ? 'batch' : 'batches'} took longer to mix and lay than the mix can be worked: take smaller batches, more hands or a slower mix.`,
  };
}

function medianOfEnough(values: { of: BatchName; value: number }[]): Median<BatchName> | null {
  return values.length < LEAST_BATCHES ? null : takeMedian(values);
}
