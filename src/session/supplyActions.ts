import type { PlanDocument, SuppliesPlan } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

type Shim = SuppliesPlan['shim'];
type Release = SuppliesPlan['release'];
type Fastener = SuppliesPlan['fastener'];
export type ReleasePack = Release['packs'][number];

const changeSupplies =
  (change: (supplies: SuppliesPlan) => SuppliesPlan): PlanEdit =>
  (plan) => ({ ...plan, supplies: change(plan.supplies) });

/** A sign or a code, such as EUR; prices are not converted. */
export const setCurrency = (currency: string): PlanEdit =>
  changeSupplies((supplies) => ({ ...supplies, currency }));

export const setShim = (change: Partial<Shim>): PlanEdit =>
  changeSupplies((supplies) => {
    const shim = { ...supplies.shim, ...change };
    const isUsable =
      shim.thicknessMm > 0 &&
      shim.densityGPerCm3 > 0 &&
      shim.stripLengthMm > 0 &&
      shim.stripWidthMm > 0 &&
      shim.overlapMm >= 0 &&
      shim.overlapMm < shim.stripLengthMm &&
      isCount(shim.stripsPerPack) &&
      isPrice(shim.packPrice);
    return isUsable ? { ...supplies, shim } : supplies;
  });

export const setRelease = (change: Partial<Release>): PlanEdit =>
  changeSupplies((supplies) => {
    const release = { ...supplies.release, ...change };
    const isUsable =
      release.coverageM2PerKg > 0 &&
      isCount(release.coats) &&
      release.packs.every((pack) => pack.massG > 0 && isPrice(pack.price));
    return isUsable ? { ...supplies, release } : supplies;
  });

export const setFastener = (change: Partial<Fastener>): PlanEdit =>
  changeSupplies((supplies) => {
    const fastener = { ...supplies.fastener, ...change };
    const isUsable =
      fastener.workingLoadN > 0 &&
      fastener.mostSpacingMm > 0 &&
      isCount(fastener.perPack) &&
      isPrice(fastener.packPrice);
    return isUsable ? { ...supplies, fastener } : supplies;
  });

/** What lies in the shop of an item, g; null: nothing is known of it, all is bought. */
export const setStock =
  (item: string, massG: number | null): PlanEdit =>
  (plan) => {
    if (massG !== null && !(massG >= 0)) return plan;
    const others = plan.stock.filter((one) => one.item !== item);
    return { ...plan, stock: massG === null ? others : [...others, { item, massG }] };
  };

/** What is in the shop of an item, g; null where the plan does not say. */
export function stockOf(plan: PlanDocument, item: string): number | null {
  return plan.stock.find((one) => one.item === item)?.massG ?? null;
}

function isCount(count: number): boolean {
  return Number.isInteger(count) && count >= 1;
}

function isPrice(price: number | null): boolean {
  return price === null || (price >= 0 && Number.isFinite(price));
}
