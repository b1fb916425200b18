import type { EdgeTable } from './EdgeTable.ts';
import { droppedTris, keepTris } from './keepTris.ts';

/**
 * The triangles without fins: faces that hang on one edge of three and more faces, their other two edges free. A fin
 * encloses nothing, and it would tear the sheet it stands on when the faces are paired; it is often what is left of a
 * flap of two faces after the duplicate went. Edges that keep only two faces stop being crowded, so each is asked again
 * for every fin. `tris`: the numbers of those that went. O(n).
 */
export function dropFins(
  indices: Uint32Array,
  table: EdgeTable,
): { indices: Uint32Array; dropped: number; tris: readonly number[] } {
  const { first, next } = table;
  const freeEdges = new Uint8Array(indices.length / 3);
  for (let edge = 0; edge < table.count; edge++) {
    if (next[first[edge]] < 0) freeEdges[(first[edge] / 3) | 0]++;
  }
  const isKept = new Uint8Array(freeEdges.length).fill(1);
  let dropped = 0;
  for (let edge = 0; edge < table.count; edge++) {
    let faces = 0;
    for (let e = first[edge]; e >= 0; e = next[e]) faces++;
    // A pair of fins back to back is a sheet of its own; the last two faces of an edge always stay.
    for (let e = first[edge]; faces > 2 && e >= 0; e = next[e]) {
      const t = (e / 3) | 0;
      if (freeEdges[t] < 2) continue;
      isKept[t] = 0;
      faces--;
      dropped++;
    }
  }
  return { indices: keepTris(indices, isKept), dropped, tris: dropped > 0 ? droppedTris(isKept) : [] };
}
