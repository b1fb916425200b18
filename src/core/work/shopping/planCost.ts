import type { BatchResult, CoatWork, CostResult, ShoppingItem } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { cheapestPerG } from './choosePacks.ts';
import { cleanSum } from './cleanSum.ts';
import { listUses } from './listUses.ts';
import { partsToBuy } from './partsToBuy.ts';

/**
 * What is paid for the packs bought, and what of the mixes each piece (by its id) and each coat (by its name, with its
 * number before it where two have one name) uses up, at the price of the cheapest gram. Uses do not add up to the
 * packs: those leave something over, and shims, release, fasteners, rubber and filler belong to no coat.
 */
export function planCost(
  plan: PlanDocument,
  items: readonly ShoppingItem[],
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
): CostResult {
  const byItem: Record<string, number> = {};
  const unpriced: string[] = [];
  let total = 0;
  let isAnyPriced = false;
  for (const item of items) {
    if (item.cost === null) {
      unpriced.push(item.item);
      continue;
    }
    // What is not bought (water, and what stock covers) costs nothing, and says nothing of prices.
    if (item.cost === 0 && !((item.packs ?? 0) > 0)) continue;
    byItem[item.item] = cleanSum((byItem[item.item] ?? 0) + item.cost);
    total += item.cost;
    isAnyPriced = true;
  }

  const pricePerG = new Map<string, number>();
  for (const part of partsToBuy(plan)) {
    const price = cheapestPerG(part.packs);
    if (price !== null) pricePerG.set(part.key, price * part.boughtShare);
  }
  const byPiece: Record<string, number> = {};
  const byCoat: Record<string, number> = {};
  if (pricePerG.size > 0) {
    for (const { work: one, massByKeyG } of listUses(plan, work, batches)) {
      let cost = 0;
      for (const [key, massG] of massByKeyG) cost += massG * (pricePerG.get(key) ?? 0);
      const coat = nameOfCoat(plan, one);
      byPiece[one.piece] = (byPiece[one.piece] ?? 0) + cost;
      byCoat[coat] = (byCoat[coat] ?? 0) + cost;
    }
  }
  return {
    total: isAnyPriced || unpriced.length === 0 ? cleanSum(total) : null,
    currency: plan.supplies.currency,
    byItem,
    byPiece,
    byCoat,
    unpriced,
  };
}

function nameOfCoat(plan: PlanDocument, { name, coat }: CoatWork): string {
  return plan.coats.filter((one) => one.name === name).length > 1 ? `${coat + 1} ${name}` : name;
}
