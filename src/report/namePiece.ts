import type { PieceResult } from '../core/PlanResult.ts';

/** The name of the piece of this id; the id itself where no such piece is known. */
export function namePiece(pieces: readonly Pick<PieceResult, 'id' | 'name'>[], id: string): string {
  return pieces.find((piece) => piece.id === id)?.name ?? id;
}
