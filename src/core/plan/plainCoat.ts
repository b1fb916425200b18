import type { CoatKind, CoatPlan } from './PlanDocument.ts';

/** A coat of the plan's own system without additives, waiting as the system says. */
export function plainCoat(name: string, kind: CoatKind, thicknessMm: number): CoatPlan {
  return { name, kind, thicknessMm, systemId: null, additives: [], reinforcementShare: null, waitMin: null };
}
