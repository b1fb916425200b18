import * as v from 'valibot';
import { PlanError } from '../errors.ts';
import { describeIssue } from './describeIssue.ts';
import { migratePlan } from './migratePlan.ts';
import type { PlanDocument } from './PlanDocument.ts';
import { planSchema } from './planSchema.ts';

/**
 * The plan of a parsed JSON value, brought to the newest version and held to its schema.
 * Throws PlanError 'bad-plan' naming the first wrong field, 'newer-plan' for a later version's document.
 */
export function parsePlan(json: unknown): PlanDocument {
  const parsed = v.safeParse(planSchema, migratePlan(json));
  if (parsed.success) return parsed.output;
  const { field, text } = describeIssue(parsed.issues[0]);
  throw new PlanError('bad-plan', `In the plan, “${field}” ${text}. Correct it and try again.`, field);
}
