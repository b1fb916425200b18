import { CommanderError } from 'commander';
import { MeshError, PlanError } from '../core/errors.ts';
import { CallError } from './CallError.ts';
import { NoPlanError } from './NoPlanError.ts';

/** What a shell sees of how a call ended. */
export const EXIT = {
  answered: 0,
  /** A defect of ours; none of the words below fits. */
  defect: 1,
  callIsOff: 2,
  notAMesh: 3,
  noPlan: 4,
  /** 128 + SIGINT's number, as shells have it. */
  cancelled: 130,
} as const;

/** Exit code and the sentence for standard error (empty: it was already written). Never a stack trace. */
export function describeFailure(error: unknown): { code: number; text: string } {
  if (error instanceof CommanderError) {
    // Commander wrote its own sentence, or the help that was asked for.
    return { code: error.exitCode === 0 ? EXIT.answered : EXIT.callIsOff, text: '' };
  }
  if (error instanceof CallError) return { code: EXIT.callIsOff, text: error.message };
  if (error instanceof MeshError) return { code: EXIT.notAMesh, text: error.message };
  if (error instanceof PlanError || error instanceof NoPlanError) {
    return { code: EXIT.noPlan, text: error.message };
  }
  if (error instanceof Error && error.name === 'AbortError')
    return { code: EXIT.cancelled, text: 'Cancelled; nothing was written.' };
  const what = error instanceof Error ? error.message : String(error);
  return {
    code: EXIT.defect,
    text: `This should not happen: ${what}. The fault lies in scute, not in your file.`,
  };
}
