import { type JobFailure, PlannerError } from '../../jobs/protocol.ts';

/** True for a job that was cancelled: that is no failure and nothing is said. */
export function isAbort(error: unknown): boolean {
  return error instanceof Error || error instanceof DOMException ? error.name === 'AbortError' : false;
}

/** Whatever was thrown, as the failure the page shows; its message is a sentence for people. */
export function failureOf(error: unknown): JobFailure {
  if (error instanceof PlannerError) return error.failure;
  const isOurs = error instanceof Error && (error.name === 'PlanError' || error.name === 'MeshError');
  const what = error instanceof Error ? error.message : String(error);
  return {
    kind: 'internal',
    code: 'internal',
    message: isOurs ? what : `Something went wrong in the page (${what}). Your plan is kept.`,
  };
}
