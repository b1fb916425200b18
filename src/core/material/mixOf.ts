import type { CoatPlan } from '../plan/PlanDocument.ts';
import { lotOf } from './lotOf.ts';
import type { MaterialSystem } from './MaterialSystem.ts';

/** What a coat is mixed from and what that weighs. */
export interface Mix {
  /** By name of component, additive (as added) and reinforcement: share of the whole mix's mass. They sum to 1. */
  readonly shares: Readonly<Record<string, number>>;
  /** As laid up, entrained air counted, g/cm3. */
  readonly densityGPerCm3: number;
  /** Mass once what is not bound has dried out, share of the mass as mixed. */
  readonly dryShare: number;
  /** Mass of reinforcement, share of the whole. */
  readonly reinforcementShare: number;
}

export type Recipe = Pick<CoatPlan, 'kind' | 'additives' | 'reinforcementShare'>;

/** A coat of the mix alone. */
const PLAIN: Recipe = { kind: 'build', additives: [], reinforcementShare: 0 };

/**
 * The mix of a system by a coat's recipe. Volumes of components, additives and reinforcement add (mixing rule), air takes
 * volume and has no mass; a density measured on the lot in use stands before the rule for all but additives and
 * reinforcement. Water dries out but for what the components bind.
 * Source: the rule meets five published wet and dry densities of plaster to about 1 % (test/core/material); bound water
 * by stoichiometry of calcium sulphate hemihydrate.
 * Limits: no reaction shrinkage, no dissolving of one part in another. Additives that the system does not know are left out
 * (`checkRecipe` tells of them).
 */
export function mixOf(system: MaterialSystem, recipe: Recipe): Mix {
  const mixed = addUp(system, recipe);
  const plain = addUp(system, PLAIN);
  const lot = lotOf(system);
  const ruleGPerCm3 = (plain.massG / plain.volumeCm3) * (1 - system.airShare);
  const fit = lot?.densityGPerCm3 ? lot.densityGPerCm3 / ruleGPerCm3 : 1;
  const share = reinforcementShareOf(system, recipe);
  const reinforcementG = share * mixed.massG;
  const massG = mixed.massG + reinforcementG;
  const reinforcementCm3 = system.reinforcement ? reinforcementG / system.reinforcement.densityGPerCm3 : 0;
  const shares: Record<string, number> = {};
  for (const [name, partG] of mixed.partsG) shares[name] = (shares[name] ?? 0) + partG / massG;
  if (system.reinforcement && reinforcementG > 0) shares[system.reinforcement.name] = reinforcementG / massG;
  return {
    shares,
    densityGPerCm3: (massG / (mixed.volumeCm3 / fit + reinforcementCm3)) * (1 - system.airShare),
    dryShare: (massG - Math.max(0, mixed.waterG - mixed.bindsG)) / massG,
    reinforcementShare: reinforcementG / massG,
  };
}

/** Mass of reinforcement on the mass of the mix without it: the recipe's own, else the typical one in a reinforced coat. */
export function reinforcementShareOf(system: MaterialSystem, recipe: Recipe): number {
  if (system.reinforcement === null) return 0;
  return recipe.reinforcementShare ?? (recipe.kind === 'reinforced' ? system.reinforcement.typicalShare : 0);
}

/** Mass of a component by its parts, g in whatever unit the parts are. */
export function partMassG(system: MaterialSystem, component: MaterialSystem['components'][number]): number {
  return system.partsBy === 'mass' ? component.parts : component.parts * component.densityGPerCm3;
}

interface Sum {
  readonly partsG: [name: string, massG: number][];
  readonly massG: number;
  readonly volumeCm3: number;
  readonly waterG: number;
  /** Water that can be bound. */
  readonly bindsG: number;
}

/** Components and additives in g to one set of parts. */
function addUp(system: MaterialSystem, recipe: Recipe): Sum {
  const partsG: [string, number][] = [];
  let volumeCm3 = 0;
  let waterG = 0;
  let bindsG = 0;
  let componentsG = 0;
  for (const component of system.components) {
    const massG = partMassG(system, component);
    partsG.push([component.name, massG]);
    componentsG += massG;
    volumeCm3 += massG / component.densityGPerCm3;
    waterG += massG * component.waterShare;
    bindsG += massG * component.bindsWaterShare;
  }
  let massG = componentsG;
  for (const { name, doseShare } of recipe.additives) {
    const additive = system.additives.find((one) => one.name === name);
    if (!additive) continue;
    const base = system.components.find((component) => component.name === additive.base);
    const addedG = doseShare * (base ? partMassG(system, base) : componentsG);
    if (addedG === 0) continue;
    partsG.push([name, addedG]);
    massG += addedG;
    volumeCm3 += addedG / additive.densityGPerCm3;
    const { solution } = additive;
    if (solution) waterG += (addedG * solution.waterG) / (solution.activeG + solution.waterG);
  }
  return { partsG, massG, volumeCm3, waterG, bindsG };
}
