import type { CoatKind, CoatPlan } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** A new coat when there is none to take after; 3 mm is about 1/8 in, common practice, no source. */
const FIRST_COAT: CoatPlan = { name: 'Build coat', kind: 'build', thicknessMm: 3 };

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

/** All coats together, mm. */
export function totalThicknessMm(coats: readonly CoatPlan[]): number {
  return coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);
}

export const setLeastThickness = (leastThicknessMm: number): PlanEdit => {
  return (plan) => (leastThicknessMm > 0 ? { ...plan, leastThicknessMm } : plan);
};

/** Edge of a field cell, mm, or left to the tool. */
export const setResolution = (resolutionMm: number | 'auto'): PlanEdit => {
  return (plan) => (resolutionMm === 'auto' || resolutionMm > 0 ? { ...plan, resolutionMm } : plan);
};
