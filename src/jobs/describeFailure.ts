import { MeshError, PlanError } from '../core/errors.ts';
import type { JobFailure } from './protocol.ts';

/**
 * How engines say that there is no memory left: V8 "Array buffer allocation failed", "Invalid array length"; WebAssembly
 * "could not allocate memory", "Maximum memory size exceeded"; SpiderMonkey and JavaScriptCore "out of memory". A typed array
 * of a length that is no number at all is a defect of ours, and is not among them.
 */
const NO_MEMORY =
  /allocat|out of memory|memory size|invalid array length|invalid typed array length: \d|array size/i;

/** An error in words that can cross to the page. Unknown errors are defects of ours and say so. */
export function describeFailure(error: unknown): JobFailure {
  if (error instanceof MeshError) return { kind: 'mesh', code: error.code, message: error.message };
  if (error instanceof PlanError) return { kind: 'plan', code: error.code, message: error.message };
  const what = error instanceof Error ? error.message : String(error);
  if (NO_MEMORY.test(what))
    return {
      kind: 'out-of-memory',
      code: 'out-of-memory',
      message: `This takes more memory than the browser gives the page (${what}). Your plan is kept. Choose a coarser resolution, crop the scan, or close other tabs; then try again.`,
    };
  return {
    kind: 'internal',
    code: 'internal',
    message: `Something went wrong inside Scute (${what}). Your plan is kept. Undo the last change, or open the file again.`,
  };
}
