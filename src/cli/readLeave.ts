import { LEAVABLE_REPAIRS, type LeavableRepair } from '../core/plan/leavableRepairs.ts';
import { CallError } from './CallError.ts';

/** Repairs to be left undone as written in the call, "crumbs-dropped,holes-filled", or "none"; each once. Throws CallError. */
export function readLeave(text: string): LeavableRepair[] {
  if (text.trim() === 'none') return [];
  const codes = text.split(',').map((word) => {
    const code = LEAVABLE_REPAIRS.find((repair) => repair === word.trim());
    if (code !== undefined) return code;
    throw new CallError(
      `--leave: “${word.trim()}” is no repair that can be left undone; those are ${LEAVABLE_REPAIRS.join(', ')}. Write them parted by commas, or none.`,
    );
  });
  return [...new Set(codes)];
}
