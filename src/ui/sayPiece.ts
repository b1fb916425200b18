import type { PieceResult } from '../core/PlanResult.ts';

/** A piece by its letter, by which its spots go, and its name: "A front". */
export function sayPiece({ id, name }: Pick<PieceResult, 'id' | 'name'>): string {
  return name === id || name === '' ? id : `${id}\u00a0${name}`;
}
