import type { ScalePlan } from '../../plan/PlanDocument.ts';

/** A part of a mix: its share of the whole mass, above 0. */
export interface MixPart {
  readonly name: string;
  readonly share: number;
}

/** What is set on the scales for one batch, part by part in the order of the mix's parts. */
export interface Weighing {
  readonly weights: readonly PartWeight[];
  /** Sum of the weights. */
  readonly mixedG: number;
  /** Largest deviation of a part's share in what is weighed from its share in the mix, on the latter. */
  readonly ratioOff: number;
  /** The part that deviates most. */
  readonly worst: PartWeight;
}

export interface PartWeight {
  readonly name: string;
  /** A whole number of the scale's steps. */
  readonly massG: number;
  /** What it would be without rounding, g. */
  readonly exactG: number;
  readonly scale: ScalePlan;
}

/**
 * How much more than needed may be mixed so that the weights come out even. Own choice: a tenth costs less than a wrong
 * mix.
 */
export const MOST_EXTRA_SHARE = 0.1;
/** So much more is always allowed, g: of a batch of a cupful, a few spoonfuls too many are no loss. Own choice. */
export const MOST_EXTRA_G = 20;
/**
 * Tries for one batch at most: where steps are finer than a thousandth of the span, every part has its choice of them
 * anyway.
 */
const MOST_TRIES = 1000;
/** Share of the tolerance that is rounding of Float64, not of the scale. */
const ROUNDING = 1e-9;
/** Weights are cleaned to this many parts of a gram, so that 3 x 0.1 g reads 0.3 g. */
const PARTS_OF_GRAM = 1e6;

/**
 * The smallest batch of at least `needG` (less rounding) whose every part comes out within `tolerance` of its share
 * when it is weighed in whole steps of the finest scale that carries it. A slightly larger batch is looked for, up to a
 * tenth or 20 g more and never beyond `mostG`; when none will do, the one nearest to the right ratio is given,
 * `ratioOff` says how far off.
 *
 * @param mostG the most that may be mixed at once; at least `needG` plus half a step for each part (`roundingRoomG`).
 * Cost: at most 1000 roundings. Source: own.
 */
export function weighBatch(
  parts: readonly MixPart[],
  needG: number,
  mostG: number,
  scales: readonly ScalePlan[],
  tolerance: number,
): Weighing {
  const fineFirst = finestFirst(scales);
  let best = weighOnce(parts, needG, fineFirst);
  const isAllowed = (weighing: Weighing): boolean => weighing.mixedG <= mostG * (1 + ROUNDING);
  if (isInRatio(best, tolerance) && isAllowed(best)) return best;
  const endG = Math.min(mostG, mostTriedG(needG));
  // Whole steps in all are tried: each part's nearest step then is the best there is for that sum.
  const { stepG } = fineFirst[0];
  const stride = Math.max(1, Math.ceil((endG - needG) / stepG / MOST_TRIES));
  const endSteps = Math.floor(endG / stepG);
  for (let steps = Math.ceil(needG / stepG); steps <= endSteps; steps += stride) {
    const weighing = weighOnce(parts, steps * stepG, fineFirst);
    if (!isAllowed(weighing)) continue;
    if (isInRatio(weighing, tolerance)) return weighing;
    if (weighing.ratioOff < best.ratioOff) best = weighing;
  }
  return best;
}

/** The largest batch that is mixed where so much is needed, g: what evens out its weights counted. */
export function mostTriedG(needG: number): number {
  return needG + Math.max(MOST_EXTRA_G, needG * MOST_EXTRA_SHARE);
}

/** Every part of so much mix rounded to the nearest step of the finest scale that carries it. Scales finest first. */
export function weighOnce(
  parts: readonly MixPart[],
  wholeG: number,
  fineFirst: readonly ScalePlan[],
): Weighing {
  const weights = parts.map(({ name, share }) => weighPart(name, share * wholeG, fineFirst));
  const mixedG = clean(weights.reduce((sum, weight) => sum + weight.massG, 0));
  let ratioOff = 0;
  let worst = weights[0];
  weights.forEach((weight, n) => {
    const off = mixedG > 0 ? Math.abs(weight.massG / mixedG / parts[n].share - 1) : 1;
    if (off > ratioOff) {
      ratioOff = off;
      worst = weight;
    }
  });
  return { weights, mixedG, ratioOff, worst };
}

/** Whether every part is within `tolerance` of its share in the mix. */
export function isInRatio(weighing: Weighing, tolerance: number): boolean {
  return weighing.ratioOff <= tolerance + ROUNDING;
}

/** A copy with the finest step in front. */
export function finestFirst(scales: readonly ScalePlan[]): ScalePlan[] {
  return [...scales].sort((a, b) => a.stepG - b.stepG || b.mostG - a.mostG);
}

/** By how much the weights of a batch of `wholeG` can exceed it through rounding, g: half a step for each part. */
export function roundingRoomG(
  parts: readonly MixPart[],
  wholeG: number,
  fineFirst: readonly ScalePlan[],
): number {
  return parts.reduce(
    (sum, { name, share }) => sum + weighPart(name, share * wholeG, fineFirst).scale.stepG / 2,
    0,
  );
}

function weighPart(name: string, exactG: number, fineFirst: readonly ScalePlan[]): PartWeight {
  for (const scale of fineFirst) {
    const massG = clean(Math.round(exactG / scale.stepG) * scale.stepG);
    if (massG <= scale.mostG) return { name, massG, exactG, scale };
  }
  // Only a logged batch can be heavier than every scale: it was then weighed in several goes on the one that carries most.
  const scale = fineFirst.reduce((most, one) => (one.mostG > most.mostG ? one : most));
  return { name, massG: clean(Math.round(exactG / scale.stepG) * scale.stepG), exactG, scale };
}

function clean(massG: number): number {
  return Math.round(massG * PARTS_OF_GRAM) / PARTS_OF_GRAM;
}
