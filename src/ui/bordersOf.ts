import type { PieceResult } from '../core/PlanResult.ts';
import type { SessionState } from '../session/SessionStore.ts';

/** Two pieces and the length of line between them. */
export interface PieceBorder {
  readonly pair: readonly [PieceResult, PieceResult];
  readonly lengthMm: number;
}

/** Every two pieces that share a line, in the order of the pieces, with how much of it. */
export function bordersOf({ answer }: Pick<SessionState, 'answer'>): readonly PieceBorder[] {
  if (!answer) return [];
  const { pieces, partingLines } = answer.result;
  const out: PieceBorder[] = [];
  for (let i = 0; i < pieces.length; i++) {
    for (let j = i + 1; j < pieces.length; j++) {
      const shared = partingLines.filter(
        ({ between }) => between.includes(pieces[i].id) && between.includes(pieces[j].id),
      );
      if (shared.length === 0) continue;
      out.push({
        pair: [pieces[i], pieces[j]],
        lengthMm: shared.reduce((sum, line) => sum + line.lengthMm, 0),
      });
    }
  }
  return out;
}
