import type { AdditiveDose, CoatPlan } from '../plan/PlanDocument.ts';
import { basisOf } from './basisOf.ts';
import type { MaterialSystem } from './MaterialSystem.ts';
import { reinforcementShareOf } from './mixOf.ts';
import type { RecipeNote } from './RecipeNote.ts';
import { sayBasis } from './sayBasis.ts';
import { sayShare } from './sayShare.ts';

/** A dose typed in per cent and divided by 100 may miss the limit it means by rounding. */
const ROUNDING = 1e-9;

/**
 * What in a coat's recipe is over or under a limit of its system, or not known there; each names the limit and its basis.
 * Nothing is clipped: the recipe is mixed as written, but for an additive that the system does not know, which is left out.
 */
export function checkRecipe(system: MaterialSystem, coat: CoatPlan): RecipeNote[] {
  return [
    ...coat.additives.flatMap((dose) => checkDose(system, coat, dose)),
    ...checkReinforcement(system, coat),
  ];
}

function checkDose(system: MaterialSystem, coat: CoatPlan, { name, doseShare }: AdditiveDose): RecipeNote[] {
  const additive = system.additives.find((one) => one.name === name);
  if (!additive) {
    const known = system.additives.map((one) => one.name).join(', ') || 'none';
    return [
      {
        code: 'additive-unknown',
        text: `Coat “${coat.name}” asks for “${name}”, which ${system.name} does not have (it has: ${known}). It is left out. Add it to the system or take it out of the coat.`,
      },
    ];
  }
  if (doseShare <= 0) return [];
  const of = additive.base === 'mix' ? 'the mix' : `the ${additive.base}`;
  if (doseShare > additive.mostShare * (1 + ROUNDING)) {
    return [
      {
        code: 'dose-over',
        text: `Coat “${coat.name}”: ${name} at ${sayShare(doseShare)} of ${of} is over the most, ${sayShare(additive.mostShare)} (${sayWhy(system, `${name}.mostShare`)}).`,
      },
    ];
  }
  if (doseShare < additive.leastShare * (1 - ROUNDING)) {
    return [
      {
        code: 'dose-under',
        text: `Coat “${coat.name}”: ${name} at ${sayShare(doseShare)} of ${of} is under the least, ${sayShare(additive.leastShare)} (${sayWhy(system, `${name}.leastShare`)}).`,
      },
    ];
  }
  return [];
}

function checkReinforcement(system: MaterialSystem, coat: CoatPlan): RecipeNote[] {
  const { reinforcement } = system;
  const asked = coat.reinforcementShare ?? 0;
  if (!reinforcement) {
    if (coat.kind !== 'reinforced' && asked === 0) return [];
    return [
      {
        code: 'reinforcement-missing',
        text: `Coat “${coat.name}” is to be reinforced, but ${system.name} has no reinforcement. It is counted without. Choose another system or another kind of coat.`,
      },
    ];
  }
  const share = reinforcementShareOf(system, coat);
  const { name, leastShare, mostShare } = reinforcement;
  if (share > mostShare * (1 + ROUNDING)) {
    return [
      {
        code: 'reinforcement-over',
        text: `Coat “${coat.name}”: ${name} at ${sayShare(share)} on the mix is over the most, ${sayShare(mostShare)} (${sayWhy(system, 'reinforcement.mostShare')}).`,
      },
    ];
  }
  const isUnder = share > 0 ? share < leastShare * (1 - ROUNDING) : coat.kind === 'reinforced';
  if (!isUnder) return [];
  return [
    {
      code: 'reinforcement-under',
      text: `Coat “${coat.name}”: ${name} at ${sayShare(share)} on the mix is under the least, ${sayShare(leastShare)} (${sayWhy(system, 'reinforcement.leastShare')}).`,
    },
  ];
}

function sayWhy(system: MaterialSystem, path: string): string {
  const basis = basisOf(system, path);
  return basis ? sayBasis(basis) : 'no basis is given';
}
