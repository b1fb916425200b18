import { coatSystem } from '../../material/coatMix.ts';
import type { MaterialSystem, Pack } from '../../material/MaterialSystem.ts';
import type { ShoppingItem } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';

/** A component, additive or reinforcement as it is bought. */
export interface PartToBuy {
  /** Names it among the parts of all systems (`partKey`). */
  readonly key: string;
  readonly system: MaterialSystem;
  readonly name: string;
  readonly kind: ShoppingItem['kind'];
  readonly packs: readonly Pack[];
  /** Mass bought on the mass that goes into the bucket: below 1 for a solution, which is made up with water. */
  readonly boughtShare: number;
  /** Plain water from the tap: weighed, not bought. */
  readonly isTapWater: boolean;
}

/** A part's key: ids and names are of one line each. */
export function partKey(systemId: string, name: string): string {
  return `${systemId}\n${name}`;
}

/**
 * Every part of every system that the plan mixes from: the coats' systems in the order of the coats, the plan's own in
 * front, then the rubber, then the filler. A system that stands in two places is listed once, by the first.
 */
export function partsToBuy(
  plan: Pick<PlanDocument, 'coats' | 'material' | 'otherMaterials' | 'rubber' | 'filler'>,
): PartToBuy[] {
  const parts = new Map<string, PartToBuy>();
  const add = (system: MaterialSystem, all: ShoppingItem['kind'] | null): void => {
    const put = (
      name: string,
      kind: ShoppingItem['kind'],
      packs: readonly Pack[],
      boughtShare: number,
      isTapWater: boolean,
    ): void => {
      const key = partKey(system.id, name);
      if (!parts.has(key)) {
        parts.set(key, { key, system, name, kind: all ?? kind, packs, boughtShare, isTapWater });
      }
    };
    for (const { name, packs, waterShare } of system.components) {
      put(name, 'component', packs, 1, waterShare === 1 && packs.length === 0);
    }
    for (const { name, packs, solution } of system.additives) {
      const boughtShare = solution === null ? 1 : solution.activeG / (solution.activeG + solution.waterG);
      put(name, 'additive', packs, boughtShare, false);
    }
    if (system.reinforcement !== null) {
      put(system.reinforcement.name, 'reinforcement', system.reinforcement.packs, 1, false);
    }
  };
  add(plan.material, null);
  for (const coat of plan.coats) add(coatSystem(plan, coat), null);
  add(plan.rubber, 'rubber');
  add(plan.filler, 'filler');
  return [...parts.values()];
}
