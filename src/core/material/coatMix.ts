import type { CoatPlan, PlanDocument } from '../plan/PlanDocument.ts';
import type { MaterialSystem } from './MaterialSystem.ts';
import { type Mix, mixOf } from './mixOf.ts';

type Materials = Pick<PlanDocument, 'material' | 'otherMaterials'>;

/** The system that a coat is of: one of the plan's others by its id, else the plan's own. */
export function coatSystem(plan: Materials, coat: Pick<CoatPlan, 'systemId'>): MaterialSystem {
  return plan.otherMaterials.find((system) => system.id === coat.systemId) ?? plan.material;
}

export function coatMix(
  plan: Materials,
  coat: CoatPlan,
): { readonly system: MaterialSystem; readonly mix: Mix } {
  const system = coatSystem(plan, coat);
  return { system, mix: mixOf(system, coat) };
}
