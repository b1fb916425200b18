import type { Pack } from '../../material/MaterialSystem.ts';

/** So many packs of one size. */
export interface PackCount {
  readonly pack: Pack;
  readonly count: number;
}

/** Mass below which nothing more is bought, g: half a milligram is rounding. */
const NOTHING_G = 5e-4;
/** Prices closer than this are the same. */
const SAME_PRICE = 1e-6;
/** Steps of the search; within, every sensible set of packs is seen for all but made-up ranges of sizes. */
const MOST_STEPS = 50_000;

/**
 * The packs to buy for at least `needG`, largest first: the cheapest set; of equally cheap ones the one that leaves
 * least over, then the one of fewest packs. Where no pack has a price: least left over, then fewest packs. Packs
 * without a price are passed over as soon as one has a price. Empty when nothing is needed or no pack is given.
 *
 * Cost: a bounded search, at most 50 000 steps; beyond those (many odd sizes of which hundreds are needed) the best set
 * so far is given, which covers the need. Source: own; branch and bound.
 */
export function choosePacks(needG: number, packs: readonly Pack[]): PackCount[] {
  if (!(needG > NOTHING_G) || packs.length === 0) return [];
  const isPriced = packs.some((pack) => pack.price !== null);
  const sizes = packs
    .filter((pack) => !isPriced || pack.price !== null)
    .sort((a, b) => b.massG - a.massG || (a.price ?? 0) - (b.price ?? 0));
  const prices = sizes.map((pack) => pack.price ?? 0);
  // The least that a gram can cost from this size on: what is still missing costs at least so much.
  const leastPerG = sizes.map((_, n) =>
    Math.min(...sizes.slice(n).map((pack, k) => prices[n + k] / pack.massG)),
  );
  const counts = new Int32Array(sizes.length);
  let best: Int32Array | null = null;
  let bestCost = Infinity;
  let bestOverG = Infinity;
  let bestPacks = Infinity;
  let steps = 0;

  const search = (size: number, missingG: number, cost: number, packCount: number): void => {
    if (missingG <= NOTHING_G) {
      const overG = Math.max(0, -missingG);
      const isCheaper = cost < bestCost - SAME_PRICE;
      const isAsCheap = cost <= bestCost + SAME_PRICE;
      const isLess = overG < bestOverG - NOTHING_G;
      const isAsLittle = overG <= bestOverG + NOTHING_G;
      if (isCheaper || (isAsCheap && (isLess || (isAsLittle && packCount < bestPacks)))) {
        best = counts.slice();
        bestCost = cost;
        bestOverG = overG;
        bestPacks = packCount;
      }
      return;
    }
    if (size === sizes.length) return;
    if (
      best !== null &&
      (steps++ > MOST_STEPS || cost + missingG * leastPerG[size] > bestCost + SAME_PRICE)
    ) {
      return;
    }
    const { massG } = sizes[size];
    const most = Math.ceil((missingG - NOTHING_G) / massG);
    // The smallest size covers whatever is missing; a larger one is tried from as many as cover it down to none.
    const least = size === sizes.length - 1 ? most : 0;
    for (let count = most; count >= least; count--) {
      counts[size] = count;
      search(size + 1, missingG - count * massG, cost + count * prices[size], packCount + count);
    }
    counts[size] = 0;
  };
  search(0, needG, 0, 0);
  return sizes.flatMap((pack, n) => (best !== null && best[n] > 0 ? [{ pack, count: best[n] }] : []));
}

/** Price of a gram from the pack that is cheapest by the gram; null: none has a price. */
export function cheapestPerG(packs: readonly Pack[]): number | null {
  let least: number | null = null;
  for (const { massG, price } of packs) {
    if (price !== null && (least === null || price / massG < least)) least = price / massG;
  }
  return least;
}
