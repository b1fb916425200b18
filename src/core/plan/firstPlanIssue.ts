import * as v from 'valibot';
import { type DescribedIssue, describeIssue } from './describeIssue.ts';
import { findOversize } from './findOversize.ts';
import type { PlanDocument } from './PlanDocument.ts';
import { plainWords } from './plainWords.ts';
import { planSchema } from './planSchema.ts';

/** The value as a plan, or the first thing that keeps it from being one. Knows the newest version only. */
export function firstPlanIssue(
  json: unknown,
): { readonly plan: PlanDocument } | { readonly issue: DescribedIssue } {
  const oversize = findOversize(json);
  if (oversize !== null) return { issue: { ...oversize, field: plainWords(oversize.field) } };
  const parsed = v.safeParse(planSchema, json);
  return parsed.success ? { plan: parsed.output } : { issue: describeIssue(parsed.issues[0]) };
}
