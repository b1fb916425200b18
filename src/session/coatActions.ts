import type { Additive, MaterialSystem } from '../core/material/MaterialSystem.ts';
import type { CoatKind, CoatPlan, PlanDocument } from '../core/plan/PlanDocument.ts';
import { totalThicknessMm } from '../core/plan/totalThicknessMm.ts';
import { recipeIn } from './materialActions.ts';
import type { PlanEdit } from './SessionStore.ts';

export { totalThicknessMm };

/** A new coat when there is none to take after; 3 mm is about 1/8 in, common practice, no source. */
const FIRST_COAT: CoatPlan = {
  name: 'Build coat',
  kind: 'build',
  thicknessMm: 3,
  systemId: null,
  additives: [],
  reinforcementShare: null,
  waitMin: null,
};

const changeCoats =
  (change: (coats: readonly CoatPlan[]) => readonly CoatPlan[]): PlanEdit =>
  (plan) => ({ ...plan, coats: change(plan.coats) });

const changeCoat = (index: number, change: Partial<CoatPlan>): PlanEdit =>
  changeCoats((coats) => coats.map((coat, i) => (i === index ? { ...coat, ...change } : coat)));

export const setCoatName = (index: number, name: string): PlanEdit => changeCoat(index, { name });

export const setCoatKind = (index: number, kind: CoatKind): PlanEdit => changeCoat(index, { kind });

/** Thickness of this coat alone, mm; zero and less are left unheard. */
export const setCoatThickness = (index: number, thicknessMm: number): PlanEdit =>
  thicknessMm > 0 ? changeCoat(index, { thicknessMm }) : (plan) => plan;

/** One more build coat on the outside, as thick as the one below it. */
export const addCoat = (): PlanEdit =>
  changeCoats((coats) => {
    const last = coats.at(-1) ?? FIRST_COAT;
    return [...coats, { ...FIRST_COAT, thicknessMm: last.thicknessMm, name: `Coat ${coats.length + 1}` }];
  });

/** The last coat left stays: a shell of no coats is no shell. */
export const removeCoat = (index: number): PlanEdit =>
  changeCoats((coats) => (coats.length > 1 ? coats.filter((_, i) => i !== index) : coats));

/** Moves a coat by `by` places, outward when positive; beyond either end it stays. */
export const moveCoat = (index: number, by: -1 | 1): PlanEdit =>
  changeCoats((coats) => {
    const target = index + by;
    if (target < 0 || target >= coats.length) return coats;
    const next = [...coats];
    [next[index], next[target]] = [next[target], next[index]];
    return next;
  });

/** What a coat is mixed from: the plan's own system, or the further one that it names. */
export function systemOfCoat(plan: PlanDocument, coat: CoatPlan): MaterialSystem {
  return plan.otherMaterials.find((system) => system.id === coat.systemId) ?? plan.material;
}

/** The coat is mixed from this system, or from the plan's own (null). A system new to the plan is taken into it. */
export const setCoatSystem =
  (index: number, system: MaterialSystem | null): PlanEdit =>
  (plan) => {
    const coat = plan.coats[index];
    if (!coat || (system?.id ?? null) === coat.systemId) return plan;
    const isKnown = system === null || plan.otherMaterials.some((one) => one.id === system.id);
    const recipe = recipeIn({ ...coat, systemId: system?.id ?? null }, system ?? plan.material);
    return {
      ...plan,
      otherMaterials: isKnown ? plan.otherMaterials : [...plan.otherMaterials, system],
      coats: plan.coats.map((one, i) => (i === index ? recipe : one)),
    };
  };

/** So much of an additive in a coat, share of its base's mass; 0 leaves it out. Doses over a limit are taken: the answer warns. */
export const setDose = (index: number, name: string, doseShare: number): PlanEdit =>
  changeCoats((coats) =>
    coats.map((coat, i) => {
      if (i !== index || !(doseShare >= 0) || !Number.isFinite(doseShare)) return coat;
      if (doseShare === 0) return { ...coat, additives: coat.additives.filter((dose) => dose.name !== name) };
      const isIn = coat.additives.some((dose) => dose.name === name);
      const additives = isIn
        ? coat.additives.map((dose) => (dose.name === name ? { name, doseShare } : dose))
        : [...coat.additives, { name, doseShare }];
      return { ...coat, additives };
    }),
  );

/** Puts an additive into a coat at its typical dose, or takes it out. */
export const toggleAdditive =
  (index: number, additive: Pick<Additive, 'name' | 'typicalShare'>): PlanEdit =>
  (plan) => {
    const isIn = plan.coats[index]?.additives.some((dose) => dose.name === additive.name) ?? false;
    return setDose(index, additive.name, isIn ? 0 : additive.typicalShare)(plan);
  };

/** Reinforcement in a coat: mass on the mass of the mix without it. */
export function reinforcementOf(coat: CoatPlan, system: MaterialSystem): number {
  if (system.reinforcement === null) return 0;
  return coat.reinforcementShare ?? (coat.kind === 'reinforced' ? system.reinforcement.typicalShare : 0);
}

/** Makes a coat a reinforced one with the system's typical share, or takes the reinforcement out of it. */
export const toggleReinforced =
  (index: number): PlanEdit =>
  (plan) => {
    const coat = plan.coats[index];
    if (!coat) return plan;
    const isIn = reinforcementOf(coat, systemOfCoat(plan, coat)) > 0;
    const plainKind = coat.kind === 'reinforced' ? 'build' : coat.kind;
    return changeCoat(index, { kind: isIn ? plainKind : 'reinforced', reinforcementShare: null })(plan);
  };

/** Share of reinforcement in a coat; null: the system's typical one in a reinforced coat, none in others. */
export const setReinforcementShare = (index: number, share: number | null): PlanEdit =>
  share === null || share >= 0 ? changeCoat(index, { reinforcementShare: share }) : (plan) => plan;

/** Wait after a coat, minutes; null: by the system's cure. */
export const setCoatWait = (index: number, waitMin: number | null): PlanEdit =>
  waitMin === null || waitMin >= 0 ? changeCoat(index, { waitMin }) : (plan) => plan;

/** All coats thicker or thinner alike, so that together they come to this, mm; to the thousandth of a millimetre each. */
export const scaleCoatsTo = (totalMm: number): PlanEdit =>
  changeCoats((coats) => {
    const factor = totalMm / totalThicknessMm(coats);
    if (!(factor > 0) || !Number.isFinite(factor)) return coats;
    return coats.map((coat) => ({
      ...coat,
      thicknessMm: Number((coat.thicknessMm * factor).toFixed(3)) || coat.thicknessMm,
    }));
  });

export const setLeastThickness = (leastThicknessMm: number): PlanEdit => {
  return (plan) => (leastThicknessMm > 0 ? { ...plan, leastThicknessMm } : plan);
};

/** Radius of the trowel that levels a finish, mm; null: left as brushed. */
export const setTrowelRadius = (trowelRadiusMm: number | null): PlanEdit => {
  return (plan) => (trowelRadiusMm === null || trowelRadiusMm > 0 ? { ...plan, trowelRadiusMm } : plan);
};

/** Edge of a field cell, mm, or left to the tool. */
export const setResolution = (resolutionMm: number | 'auto'): PlanEdit => {
  return (plan) => (resolutionMm === 'auto' || resolutionMm > 0 ? { ...plan, resolutionMm } : plan);
};
