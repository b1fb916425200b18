import { orient2d } from 'robust-predicates';
import type { FlatLoop } from './nestOutlines.ts';

type Place = readonly [number, number];

/** A straight piece of an outline, with the span of its u. */
interface Piece {
  readonly from: Place;
  readonly to: Place;
  readonly low: number;
  readonly high: number;
}

/**
 * Whether closed lines cross or touch, themselves or each other, anywhere but where one piece goes on in the next. Exact.
 * Pieces are swept in the order of their lowest u: O(n log n) and the pairs that overlap in u.
 */
export function doOutlinesMeet(loops: readonly FlatLoop[]): boolean {
  const pieces: Piece[] = [];
  for (const loop of loops) {
    loop.forEach((from, i) => {
      const to = loop[(i + 1) % loop.length];
      pieces.push({ from, to, low: Math.min(from[0], to[0]), high: Math.max(from[0], to[0]) });
    });
  }
  pieces.sort((a, b) => a.low - b.low);
  let open: Piece[] = [];
  for (const piece of pieces) {
    open = open.filter((other) => other.high >= piece.low);
    for (const other of open) if (doPiecesMeet(piece, other)) return true;
    open.push(piece);
  }
  return false;
}

function doPiecesMeet(a: Piece, b: Piece): boolean {
  if (Math.max(a.from[1], a.to[1]) < Math.min(b.from[1], b.to[1])) return false;
  if (Math.max(b.from[1], b.to[1]) < Math.min(a.from[1], a.to[1])) return false;
  // Places of one outline are the same object where a piece goes on in the next.
  const isAfter = a.to === b.from;
  const isBefore = b.to === a.from;
  if (isAfter && isBefore) return true;
  if (isAfter || isBefore) {
    const [first, second] = isAfter ? [a, b] : [b, a];
    if (side(first, second.to) !== 0) return false;
    // In one line: they meet when the second turns back.
    const [ox, oy] = first.to;
    return (first.from[0] - ox) * (second.to[0] - ox) > 0 || (first.from[1] - oy) * (second.to[1] - oy) > 0;
  }
  const sides = [side(a, b.from), side(a, b.to), side(b, a.from), side(b, a.to)];
  if (sides.every((s) => s === 0)) return true;
  return sides[0] * sides[1] <= 0 && sides[2] * sides[3] <= 0;
}

function side({ from, to }: Piece, at: Place): number {
  return orient2d(from[0], from[1], to[0], to[1], at[0], at[1]);
}

/** Sign of `orient2d` for places counter-clockwise. */
const COUNTER_CLOCKWISE = Math.sign(orient2d(0, 0, 1, 0, 0, 1));

/** Whether a place lies inside a closed line; on the line itself either. Exact, O(n). */
export function isPlaceInside(place: Place, loop: FlatLoop): boolean {
  let isInside = false;
  for (let i = 0; i < loop.length; i++) {
    const a = loop[i];
    const b = loop[(i + 1) % loop.length];
    if (a[1] > place[1] === b[1] > place[1]) continue;
    const turn = orient2d(a[0], a[1], b[0], b[1], place[0], place[1]) * COUNTER_CLOCKWISE;
    // Upward edges with the place to their left, downward ones with it to their right, are crossed by the way to +u.
    if (b[1] > a[1] ? turn > 0 : turn < 0) isInside = !isInside;
  }
  return isInside;
}
