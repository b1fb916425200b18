import type { PieceResult, RemovalResult } from '../core/PlanResult.ts';
import { sayPiece } from './sayPiece.ts';

/** In which order the pieces come off and which hold each other, in a sentence or two; empty when nothing needs saying. */
export function sayRemoval(
  { order, waits, locked }: RemovalResult,
  pieces: readonly Pick<PieceResult, 'id' | 'name'>[],
): string {
  if (pieces.length < 2) return '';
  const name = (id: string): string => {
    const piece = pieces.find((p) => p.id === id);
    return piece ? sayPiece(piece) : id;
  };
  const free = order.filter((id) => !locked.includes(id));
  const sayOrder = (ids: readonly string[]): string => `First ${ids.map(name).join(', then ')}.`;
  if (locked.length > 0) {
    const held =
      locked.length === 1
        ? `${name(locked[0])} cannot move along its pull, whatever comes off before.`
        : `${listNames(locked.map(name))} hold each other. Change a pull, or move the line between them.`;
    return free.length > 0 && waits.length > 0 ? `${sayOrder(free)} ${held}` : held;
  }
  return waits.length === 0 ? 'The pieces come off in any order.' : sayOrder(order);
}

function listNames(names: readonly string[]): string {
  return names.length < 3
    ? names.join(' and ')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
