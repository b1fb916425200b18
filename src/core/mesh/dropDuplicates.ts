import type { EdgeTable } from './EdgeTable.ts';
import { previousInTri } from './halfEdges.ts';
import { droppedTris, keepTris } from './keepTris.ts';

/**
 * The triangles without those that repeat another's three vertices, whatever the winding: the first of each is kept.
 * `tris`: the numbers of those that went. Two faces on the same vertices share all edges, so it is enough to compare the faces at each edge. O(n).
 */
export function dropDuplicates(
  indices: Uint32Array,
  table: EdgeTable,
): { indices: Uint32Array; dropped: number; tris: readonly number[] } {
  const isKept = new Uint8Array(indices.length / 3).fill(1);
  let dropped = 0;
  for (let edge = 0; edge < table.count; edge++) {
    for (let e = table.first[edge]; e >= 0; e = table.next[e]) {
      const t = (e / 3) | 0;
      if (isKept[t] === 0) continue;
      const tip = indices[previousInTri(e)];
      for (let o = table.next[e]; o >= 0; o = table.next[o]) {
        const s = (o / 3) | 0;
        if (s !== t && isKept[s] !== 0 && indices[previousInTri(o)] === tip) {
          isKept[s] = 0;
          dropped++;
        }
      }
    }
  }
  return { indices: keepTris(indices, isKept), dropped, tris: dropped > 0 ? droppedTris(isKept) : [] };
}
