/** Half-edges to a bucket: at most half full, so that probing stays short. */
const SLOTS_PER_EDGE = 2;

/**
 * The undirected edges of a triangle list, each with its half-edges as a linked list.
 *
 * Half-edge 3 t + k runs from corner k of triangle t to corner (k + 1) % 3; `first[edge]` is the lowest-numbered
 * half-edge of an edge, `next[halfEdge]` the next higher one of the same edge or -1, `edgeOf[halfEdge]` its edge.
 * Half-edges of zero length (both ends the same vertex) are edges too. O(n); open addressing in typed arrays.
 */
export class EdgeTable {
  readonly count: number;
  readonly first: Int32Array;
  readonly next: Int32Array;
  readonly edgeOf: Int32Array;

  constructor(indices: Uint32Array) {
    const n = indices.length;
    const edgeOf = new Int32Array(n);
    const next = new Int32Array(n).fill(-1);
    const first = new Int32Array(n);
    const last = new Int32Array(n);
    let size = 16;
    while (size < SLOTS_PER_EDGE * n) size *= 2;
    const slots = new Int32Array(size).fill(-1);
    const mask = size - 1;
    let count = 0;
    for (let e = 0; e < n; e++) {
      const from = indices[e];
      const to = indices[e % 3 === 2 ? e - 2 : e + 1];
      const low = Math.min(from, to);
      const high = Math.max(from, to);
      // Two odd multipliers and a fold spread neighbouring vertex numbers over the table.
      let hash = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca6b);
      hash = (hash ^ (hash >>> 15)) & mask;
      for (;;) {
        const edge = slots[hash];
        if (edge < 0) {
          slots[hash] = count;
          first[count] = e;
          last[count] = e;
          edgeOf[e] = count++;
          break;
        }
        const f = first[edge];
        const p = indices[f];
        const q = indices[f % 3 === 2 ? f - 2 : f + 1];
        if ((p === low && q === high) || (p === high && q === low)) {
          next[last[edge]] = e;
          last[edge] = e;
          edgeOf[e] = edge;
          break;
        }
        hash = (hash + 1) & mask;
      }
    }
    this.count = count;
    this.first = first.slice(0, count);
    this.next = next;
    this.edgeOf = edgeOf;
  }
}
