import { measureLoop } from './measureLoop.ts';
import type { TriMesh } from './TriMesh.ts';

/** A smaller ring than this is a slit, not a hole. */
const LEAST_EDGES = 3;

export interface SplitLoop {
  /** Half-edges of the single holes, each to be filled. */
  readonly holes: readonly Uint32Array[];
  /** What is left of the loop; equal to it when nothing was split off. */
  readonly rest: Uint32Array;
  /** Pairs from, to: vertices that become one again because the hole between them is filled. */
  readonly joins: readonly (readonly [number, number])[];
}

/**
 * Holes that touch in a point run on into each other as one loop, since the fans of faces at that point have a vertex
 * each. This takes the loop apart again where it comes back to the same place: every ring of at least three edges and at
 * most `fillTo` around is a hole of its own. O(n) in the loop, and O(n) more for each ring.
 */
export function splitPinches(mesh: TriMesh, halfEdges: Uint32Array, fillTo: number): SplitLoop {
  const { positions: p, indices } = mesh;
  const holes: Uint32Array[] = [];
  const joins: [number, number][] = [];
  const open: number[] = [];
  const lastAt = new Map<string, number>();
  for (const e of halfEdges) {
    const v = indices[e];
    const key = `${p[3 * v]},${p[3 * v + 1]},${p[3 * v + 2]}`;
    const from = lastAt.get(key);
    // Entries of rings that were taken out stay in the map; they are told by what stands there now.
    const isOpen = from !== undefined && from < open.length && isSamePlace(p, indices[open[from]], v);
    if (isOpen && open.length - from >= LEAST_EDGES) {
      const ring = Uint32Array.from(open.slice(from));
      if (measureLoop(mesh, ring).perimeter <= fillTo) {
        holes.push(ring);
        joins.push([v, indices[open[from]]]);
        open.length = from;
      }
    }
    lastAt.set(key, open.length);
    open.push(e);
  }
  return { holes, rest: Uint32Array.from(open), joins };
}

function isSamePlace(p: Float64Array, v: number, w: number): boolean {
  return p[3 * v] === p[3 * w] && p[3 * v + 1] === p[3 * w + 1] && p[3 * v + 2] === p[3 * w + 2];
}
