import type { CutSurface } from '../types.ts';

/** Hidden triangles by what they hang together with. */
export interface SpotGroups {
  readonly count: number;
  /** By hidden triangle, in the order given: its group, numbered in order of appearance. */
  readonly groupOf: Int32Array;
}

/** Triangles of one region of the cut surface that share a corner hang together. O(triangles), nearly. */
export function groupSpots(cut: CutSurface, tris: Int32Array): SpotGroups {
  const parent = new Map<number, number>();
  const find = (vert: number): number => {
    let root = vert;
    for (let up = parent.get(root); up !== undefined && up !== root; up = parent.get(root)) root = up;
    // The way is made short for the next time.
    for (let at = vert; at !== root; ) {
      const up = parent.get(at) as number;
      parent.set(at, root);
      at = up;
    }
    return root;
  };
  for (const t of tris) {
    const corners = [cut.indices[3 * t], cut.indices[3 * t + 1], cut.indices[3 * t + 2]];
    for (const vert of corners) if (!parent.has(vert)) parent.set(vert, vert);
    const root = find(corners[0]);
    parent.set(find(corners[1]), root);
    parent.set(find(corners[2]), root);
  }
  const numbers = new Map<number, number>();
  const groupOf = new Int32Array(tris.length);
  for (let n = 0; n < tris.length; n++) {
    const root = find(cut.indices[3 * tris[n]]);
    let number = numbers.get(root);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(root, number);
    }
    groupOf[n] = number;
  }
  return { count: numbers.size, groupOf };
}
