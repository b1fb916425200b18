import type { BatchResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../core/units.ts';
import { readSaid } from '../../report/readSaid.ts';
import type { Pour } from '../../session/benchProgress.ts';
import type { PourLine } from './BatchPour.ts';
import { planWeighing } from './planWeighing.ts';

/** The lines of a batch in the order in which the parts go in: as its bucket was begun, or as the plan has it. */
export function pourLines(
  batch: Pick<BatchResult, 'steps'>,
  begun: Pour | null,
  plan: Pick<PlanDocument, 'bench' | 'material' | 'otherMaterials'>,
  systemId: string | null,
  units: UnitSystem,
): readonly PourLine[] {
  const reinforcement = systemOf(plan, systemId)?.reinforcement ?? null;
  const isLaidIn = (item: string): boolean => reinforcement?.name === item && reinforcement.form === 'sheet';
  const parts = begun?.parts ?? batch.steps.map(({ item, massG }) => ({ item, massG, isIn: false }));
  const stepOf = (item: string) => batch.steps.find((step) => step.item === item);
  const weighed = planWeighing(
    parts.map(({ item, massG }) => ({ item, massG, scale: stepOf(item)?.scale ?? '' })),
    plan.bench.scales,
    isLaidIn,
  );
  return weighed.map((part, n) => {
    const step = stepOf(part.item);
    return { ...part, say: step ? readSaid(step, 'say', units) : '', isIn: parts[n].isIn };
  });
}

/** Whether the plan has come to other weights since the bucket was begun. */
export function hasPlanMovedOn(batch: Pick<BatchResult, 'steps'>, begun: Pour): boolean {
  const planned = batch.steps.map(({ item, massG }) => [item, massG]);
  return JSON.stringify(planned) !== JSON.stringify(begun.parts.map(({ item, massG }) => [item, massG]));
}

/** The system of which a coat is mixed; undefined when the plan holds it no longer. */
export function systemOf(plan: Pick<PlanDocument, 'material' | 'otherMaterials'>, id: string | null) {
  return [plan.material, ...plan.otherMaterials].find((system) => system.id === id);
}
