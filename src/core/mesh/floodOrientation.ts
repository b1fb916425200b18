import { nextInTri } from './halfEdges.ts';

export interface Flooded {
  /** Component of each triangle, numbered from 0. */
  readonly parts: Int32Array;
  readonly partCount: number;
  /** 1: the triangle must be turned over to agree with the first of its component. */
  readonly isTurned: Uint8Array;
  /** Edges where no agreement is possible (one-sided surfaces); taken apart in `partners`. */
  readonly conflicts: number;
}

/**
 * Spreads one orientation over each component, across `partners` (changed: pairs that cannot agree are parted). O(n).
 */
export function floodOrientation(indices: Uint32Array, partners: Int32Array): Flooded {
  const count = indices.length / 3;
  const parts = new Int32Array(count).fill(-1);
  const isTurned = new Uint8Array(count);
  const stack = new Int32Array(count);
  let partCount = 0;
  let conflicts = 0;
  for (let seed = 0; seed < count; seed++) {
    if (parts[seed] >= 0) continue;
    parts[seed] = partCount;
    let top = 0;
    stack[top++] = seed;
    while (top > 0) {
      const t = stack[--top];
      for (let e = 3 * t; e < 3 * t + 3; e++) {
        const o = partners[e];
        if (o < 0) continue;
        const s = (o / 3) | 0;
        // Faces that agree run their common edge in opposite directions.
        const agrees = indices[e] !== indices[o] && indices[e] === indices[nextInTri(o)];
        const wanted = isTurned[t] ^ (agrees ? 0 : 1);
        if (parts[s] < 0) {
          parts[s] = partCount;
          isTurned[s] = wanted;
          stack[top++] = s;
        } else if (isTurned[s] !== wanted) {
          partners[e] = -1;
          partners[o] = -1;
          conflicts++;
        }
      }
    }
    partCount++;
  }
  return { parts, partCount, isTurned, conflicts };
}
