import { type JobFailure, PlannerError } from '../../jobs/protocol.ts';

/** True for a job that was cancelled: that is no failure and nothing is said. */
export function isAbort(error: unknown): boolean {
  return error instanceof Error || error instanceof DOMException ? error.name === 'AbortError' : false;
}

/** Whatever was thrown, as the failure the page shows. */
export function failureOf(error: unknown): JobFailure {
  if (error instanceof PlannerError) return error.failure;
  const message = error instanceof Error ? error.message : String(error);
  return { kind: 'internal', code: 'internal', message };
}

/** A sentence or two: what happened and, where the failure itself does not say, what to do. */
export function sayFailure(failure: JobFailure): string {
  if (failure.kind === 'internal') {
    return `This is a fault of ours, not of your scan: ${failure.message} Undo the last change or work it out again.`;
  }
  if (failure.kind === 'worker-lost') {
    return 'The working-out stopped, most likely for want of memory. The plan is safe. Work it out again, with a coarser scan if it stops once more.';
  }
  return failure.message;
}
