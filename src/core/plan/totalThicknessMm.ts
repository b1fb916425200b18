import type { CoatPlan } from './PlanDocument.ts';

/** All coats together, mm. */
export function totalThicknessMm(coats: readonly Pick<CoatPlan, 'thicknessMm'>[]): number {
  return coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);
}
