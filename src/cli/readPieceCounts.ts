import { MOST_PIECES } from '../core/parting/suggest/suggestPartings.ts';
import { CallError } from './CallError.ts';

/** Numbers of pieces as written in the call, "2,3". Throws CallError. */
export function readPieceCounts(text: string): number[] {
  return text.split(',').map((word) => {
    const count = Number(word.trim());
    if (/^\d+$/.test(word.trim()) && count >= 1 && count <= MOST_PIECES) return count;
    throw new CallError(
      `--pieces: “${word}” is not a number of pieces from 1 to ${MOST_PIECES}; write it like 2 or 2,3.`,
    );
  });
}
