import type { PlanResult } from '../core/PlanResult.ts';

/** What the whole mould comes to, as far as it locks. */
export interface DeepestLock {
  readonly depthMm: number;
  readonly depthErrorMm: number;
  /** Id of the piece that locks deepest. */
  readonly piece: string;
  /** Filler of all pieces together, for the spots that lock deeper than the rubber yields, g. */
  readonly fillerBeyondGiveG: number;
}

/** The deepest lock of any piece, and the filler of all; null while a piece's undercuts are not worked out. */
export function deepestLock(result: PlanResult): DeepestLock | null {
  let deepest: DeepestLock | null = null;
  let fillerBeyondGiveG = 0;
  for (const { id, undercut } of result.pieces) {
    if (undercut === null) return null;
    fillerBeyondGiveG += undercut.beyondGive.fillerG;
    if (deepest === null || undercut.maxDepthMm > deepest.depthMm) {
      deepest = {
        depthMm: undercut.maxDepthMm,
        depthErrorMm: undercut.maxDepthErrorMm,
        piece: id,
        fillerBeyondGiveG: 0,
      };
    }
  }
  return deepest && { ...deepest, fillerBeyondGiveG };
}
