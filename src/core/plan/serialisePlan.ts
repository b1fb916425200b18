import type { PlanDocument } from './PlanDocument.ts';
import { parsePlan } from './parsePlan.ts';

/**
 * The plan as the text of its file, two spaces deep, with a last newline.
 * Throws PlanError 'bad-plan' rather than write what could not be opened again (JSON would turn NaN into null).
 */
export function serialisePlan(plan: PlanDocument): string {
  return `${JSON.stringify(parsePlan(plan), null, 2)}\n`;
}
