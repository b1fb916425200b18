import type { PlanResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { compareProbes, type ProbeComparison } from '../core/work/log/compareProbes.ts';
import { type LogLessons, learnFromLog } from '../core/work/log/learnFromLog.ts';

/** What the log of a job teaches, and what the pin says to it. */
export interface LogReport {
  readonly lessons: LogLessons;
  /** By number of coats on, fewest first; empty when nothing was measured. */
  readonly probes: readonly ProbeComparison[];
}

/** The log against an answer to this very plan. Cost: a walk over the log, no geometry. */
export function reportLog(
  plan: PlanDocument,
  result: Pick<PlanResult, 'coatWork' | 'batches' | 'probes'>,
): LogReport {
  return {
    lessons: learnFromLog(plan, result.coatWork, result.batches),
    probes: compareProbes(plan, result.coatWork, result.probes),
  };
}
