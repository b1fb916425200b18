import type { MarkPicture } from '../../jobs/protocol.ts';
import { type FoundFill, type FoundStroke, foundLook } from './foundLooks.ts';

/** Half the size of the small cross that marks a loose point, share of the scan's diagonal. Own choice. */
const CROSS_SHARE = 0.006;

/** What is drawn of findings: polylines by how they are struck (n x 3, mm), and loose triangles by how they are filled. */
export interface FoundPaths {
  readonly strokes: Readonly<Record<FoundStroke, ArrayLike<number>[]>>;
  readonly fills: ReadonlyMap<Exclude<FoundFill, null>, Float32Array[]>;
}

/**
 * The marks as lines and triangles: a loop by its outline, a patch by its border, its filling and a small upright cross at
 * its middle, edges and loose points by lines and crosses. `diagonalMm` is that of the scan; crosses go by it.
 */
export function foundPaths(marks: readonly MarkPicture[], diagonalMm: number): FoundPaths {
  const strokes: Record<FoundStroke, ArrayLike<number>[]> = { whole: [], broken: [], dotted: [] };
  const fills = new Map<Exclude<FoundFill, null>, Float32Array[]>();
  for (const { code, points, isLoop, tris, edges } of marks) {
    const { stroke, fill } = foundLook(code);
    if (isLoop) strokes[stroke].push(points);
    // A cross is too small to be broken.
    else strokes.whole.push(...crossesAt(points, diagonalMm * CROSS_SHARE));
    for (let i = 0; edges && i < edges.length; i += 6) strokes[stroke].push(edges.subarray(i, i + 6));
    if (fill === null || tris === undefined || tris.length === 0) continue;
    const own = fills.get(fill) ?? [];
    fills.set(fill, own);
    own.push(tris);
  }
  return { strokes, fills };
}

function crossesAt(points: Float32Array, half: number): number[][] {
  const out: number[][] = [];
  for (let i = 0; i < points.length; i += 3) {
    const [x, y, z] = [points[i], points[i + 1], points[i + 2]];
    out.push(
      [x - half, y, z, x + half, y, z],
      [x, y - half, z, x, y + half, z],
      [x, y, z - half, x, y, z + half],
    );
  }
  return out;
}
