import { PlanError } from '../errors.ts';
import { firstPlanIssue } from './firstPlanIssue.ts';
import { migratePlan } from './migratePlan.ts';
import type { PlanDocument } from './PlanDocument.ts';

/**
 * The plan of a parsed JSON value, brought to the newest version and held to its schema.
 * Throws PlanError 'bad-plan' naming the first wrong field, 'newer-plan' for a later version's document.
 */
export function parsePlan(json: unknown): PlanDocument {
  const parsed = firstPlanIssue(migratePlan(json));
  if ('plan' in parsed) return parsed.plan;
  const { field, text } = parsed.issue;
  throw new PlanError('bad-plan', `In the plan, “${field}” ${text}. Correct it and try again.`, field);
}
