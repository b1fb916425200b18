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

/** Bytes of a file's name that its stem may take: file systems take 255, and endings and a browser's "(1)" come behind. */
const MOST_STEM_BYTES = 120;

/** Names that one wide-spread system keeps for devices, whatever the ending (its own documentation, "Naming files"). */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

/** What the job's files are called, without an ending: letters of any script, figures and hyphens only, and not too many. */
export function fileStem(plan: Pick<PlanDocument, 'job'>): string {
  const words = plan.job.name
    .normalize('NFC')
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-/, '');
  const encoder = new TextEncoder();
  let stem = '';
  let bytes = 0;
  for (const letter of words) {
    bytes += encoder.encode(letter).length;
    if (bytes > MOST_STEM_BYTES) break;
    stem += letter;
  }
  stem = stem.replace(/-$/, '');
  return stem === '' || DEVICE.test(stem) ? ['mould', stem].filter((word) => word !== '').join('-') : stem;
}
