import { newPlan } from '../core/plan/newPlan.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { parsePlan } from '../core/plan/parsePlan.ts';
import { serialisePlan } from '../core/plan/serialisePlan.ts';

/** The plan with which a scan is opened first; the shop's name goes along from job to job. */
export function startPlan(scanName: string, shop = ''): PlanDocument {
  const plan = newPlan(scanName);
  return { ...plan, job: { ...plan.job, shop } };
}

/** A plan out of unchecked JSON. Throws PlanError naming the first wrong field. */
export function checkPlan(json: unknown): PlanDocument {
  return parsePlan(json);
}

/** A plan out of a file's text. Throws SyntaxError when it is not JSON, PlanError when it is no plan. */
export function readPlanFile(text: string): PlanDocument {
  return parsePlan(JSON.parse(text));
}

/** The plan's file: named after the job. Throws PlanError rather than write what could not be opened again. */
export function writePlanFile(plan: PlanDocument): { readonly name: string; readonly text: string } {
  return { name: `${fileStem(plan)}.scute.json`, text: serialisePlan(plan) };
}

/** What the job's files are called, without an ending: letters, figures and hyphens only. */
export function fileStem(plan: Pick<PlanDocument, 'job'>): string {
  return plan.job.name.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'mould';
}
