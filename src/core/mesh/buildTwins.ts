import { EdgeTable } from './EdgeTable.ts';

export interface Twins {
  /** triCount x 3: the opposite half-edge, or -1 on a border, a non-manifold edge, or between faces wound against each other. */
  readonly twins: Int32Array;
  /** Edges (undirected) of three and more faces, or of two that run it in the same direction. */
  readonly nonManifoldEdges: number;
  /** Edges of one face only. */
  readonly openEdges: number;
}

/**
 * The opposite half-edge of every half-edge; 3 t + k runs from corner k of triangle t to corner (k + 1) % 3.
 *
 * Only edges of exactly two faces that run it in opposite directions are twinned, so twins[twins[e]] === e wherever
 * there is one. Vertices must be shared (weld first). O(n); pass the edge table when it is at hand.
 */
export function buildTwins(indices: Uint32Array, table: EdgeTable = new EdgeTable(indices)): Twins {
  const { first, next } = table;
  const twins = new Int32Array(indices.length).fill(-1);
  let nonManifoldEdges = 0;
  let openEdges = 0;
  for (let edge = 0; edge < table.count; edge++) {
    const a = first[edge];
    const b = next[a];
    if (b < 0) {
      openEdges++;
    } else if (next[b] >= 0 || indices[a] === indices[b]) {
      nonManifoldEdges++;
    } else {
      twins[a] = b;
      twins[b] = a;
    }
  }
  return { twins, nonManifoldEdges, openEdges };
}
