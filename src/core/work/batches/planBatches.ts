import { coatMix } from '../../material/coatMix.ts';
import type { MaterialSystem } from '../../material/MaterialSystem.ts';
import type { BatchResult, CoatWork, WorkNote } from '../../PlanResult.ts';
import type { BenchPlan, LoggedBatch, PlanDocument } from '../../plan/PlanDocument.ts';
import { laidOfBatch } from '../log/laidOfBatch.ts';
import { type BatchLimits, batchLimits } from './batchLimits.ts';
import { mixingSteps } from './mixingSteps.ts';
import { noBatchNote, ratioNote } from './sayTrouble.ts';
import { countBatches, equalShares, fullShares } from './shareOut.ts';
import {
  finestFirst,
  isInRatio,
  type MixPart,
  MOST_EXTRA_SHARE,
  mostTriedG,
  type Weighing,
  weighBatch,
  weighOnce,
} from './weighBatch.ts';

/** More batches than this for one coat of one piece is a slip in the bench, not a day's work. */
export const MOST_BATCHES = 200;

/** What is laid from a batch and what is weighed for it. */
interface Share {
  readonly laidG: number;
  readonly weighing: Weighing;
}

/**
 * Every coat in batches that can be weighed, mixed and laid up before they set, in the order of the work. Of each coat
 * the logged batches come first, under their own numbers; what is still to be laid follows in fresh numbers. A coat of
 * which no batch can be made has none, and a note 'no-time-to-lay' or 'bucket-too-small' that says why; weights that no
 * scale of the bench gets into the right ratio have a note 'ratio-off'.
 *
 * What a batch mixes beyond what is laid are the losses as planned and what evens out the weights. The laid masses of a
 * coat's open batches sum to its `toLayG`.
 */
export function planBatches(
  plan: PlanDocument,
  work: readonly CoatWork[],
): { readonly batches: BatchResult[]; readonly notes: WorkNote[] } {
  const batches: BatchResult[] = [];
  const notes: WorkNote[] = [];
  for (const one of work) planCoat(plan, one, batches, notes);
  return { batches, notes };
}

function planCoat(plan: PlanDocument, work: CoatWork, batches: BatchResult[], notes: WorkNote[]): void {
  const coat = plan.coats[work.coat];
  const { system, mix } = coatMix(plan, coat);
  const parts = Object.entries(mix.shares)
    .filter(([, share]) => share > 0)
    .map(([name, share]): MixPart => ({ name, share }));
  const limits = batchLimits(plan.bench, system, coat, mix, parts, work);
  const logged = plan.log.batches
    .filter((batch) => batch.piece === work.piece && batch.coat === work.coat)
    .sort((a, b) => a.number - b.number);

  let open: readonly Share[] = [];
  if (work.toLayG > 0) {
    const count = limits.mostLaidG > 0 ? countBatches(work.toLayG, limits.mostLaidG) : Infinity;
    if (count > MOST_BATCHES) {
      notes.push(noBatchNote(plan.bench, system, work, limits, count));
    } else {
      open = shareWork(plan.bench, system, parts, limits, work.toLayG, count);
      const off = open.find(({ weighing }) => !isInRatio(weighing, plan.bench.ratioTolerance));
      if (off) notes.push(ratioNote(plan.bench, work, parts, off.weighing));
    }
  }

  const firstNumber = logged.reduce((most, batch) => Math.max(most, batch.number), 0) + 1;
  const of = firstNumber - 1 + open.length;
  const wholeG = work.laidG + work.toLayG;
  const make = (share: Share, number: number, loggedG: number | null): BatchResult => {
    const areaMm2 = wholeG > 0 ? (work.areaMm2 * share.laidG) / wholeG : 0;
    const { weighing } = share;
    const componentsG: Record<string, number> = {};
    for (const weight of weighing.weights) componentsG[weight.name] = weight.massG;
    return {
      piece: work.piece,
      coat: work.name,
      coatNumber: work.coat,
      number,
      of,
      componentsG,
      mixedG: weighing.mixedG,
      laidG: share.laidG,
      volumeMl: (weighing.mixedG * limits.bucketShare) / limits.bucketGPerCm3,
      areaMm2,
      steps: mixingSteps(system, weighing, areaMm2),
      workingTimeMin: work.times.workingMin,
      mixMin: limits.mixMin,
      layMin: areaMm2 / limits.paceMm2PerMin,
      ratioOff: weighing.ratioOff,
      loggedG,
    };
  };
  const past = loggedShares(plan.bench, system, parts, logged);
  past.forEach((share, n) => {
    batches.push(make(share, logged[n].number, logged[n].mixedG));
  });
  open.forEach((share, n) => {
    batches.push(make(share, firstNumber + n, null));
  });
}

/**
 * The open batches: full ones and a rest where the bench wants it and the rest is worth its own; else equal ones; else
 * one more, equal, where the equal ones had no room to grow into an even weight; and where nothing comes out in the
 * ratio, what comes nearest.
 */
function shareWork(
  bench: BenchPlan,
  system: MaterialSystem,
  parts: readonly MixPart[],
  limits: BatchLimits,
  toLayG: number,
  count: number,
): readonly Share[] {
  const needG = (laidG: number): number => laidG * (1 + system.lossShare) + system.lossPerBatchG;
  const weighAll = (laid: readonly number[]): Share[] => {
    // Equal batches are weighed once.
    const known = new Map<number, Weighing>();
    return laid.map((laidG) => {
      const weighing =
        known.get(laidG) ??
        weighBatch(parts, needG(laidG), limits.mostMixedG, bench.scales, bench.ratioTolerance);
      known.set(laidG, weighing);
      return { laidG, weighing };
    });
  };
  const isInAll = (shares: readonly Share[]): boolean =>
    shares.every(({ weighing }) => isInRatio(weighing, bench.ratioTolerance));
  if (bench.batches === 'full-and-rest') {
    const shares = weighAll(fullShares(toLayG, limits.mostLaidG));
    const rest = shares[shares.length - 1];
    // A rest that is only even with much more than it needs is a spoonful: it goes into the others.
    if (isInAll(shares) && rest.weighing.mixedG <= needG(rest.laidG) * (1 + MOST_EXTRA_SHARE)) return shares;
  }
  const equal = weighAll(equalShares(toLayG, count));
  if (isInAll(equal) || limits.mostMixedG >= mostTriedG(needG(toLayG / count))) return equal;
  const oneMore = weighAll(equalShares(toLayG, count + 1));
  return oneMore[0].weighing.ratioOff < equal[0].weighing.ratioOff ? oneMore : equal;
}

/** What was mixed, in the parts of the recipe; what was laid of each sums to the coat's `laidG`. */
function loggedShares(
  bench: BenchPlan,
  system: MaterialSystem,
  parts: readonly MixPart[],
  logged: readonly LoggedBatch[],
): Share[] {
  const fineFirst = finestFirst(bench.scales);
  return logged.map((batch) => ({
    laidG: laidOfBatch(batch, system),
    weighing: weighOnce(parts, batch.mixedG, fineFirst),
  }));
}
