/**
 * The undirected edges of a triangle list, each with its half-edges as a linked list.
 *
 * Half-edge 3 t + k runs from corner k of triangle t to corner (k + 1) % 3; `first[edge]` is the lowest-numbered
 * half-edge of an edge, `next[halfEdge]` the next higher one of the same edge or -1. Half-edges of zero length (both ends
 * the same vertex) are edges too. O(n) without hashing: half-edges are counted into buckets by their lower vertex, and
 * within a bucket one slot for each upper vertex remembers the edge. Edges are numbered by lower vertex.
 */
export class EdgeTable {
  readonly count: number;
  readonly first: Int32Array;
  readonly next: Int32Array;

  constructor(indices: Uint32Array) {
    const n = indices.length;
    let vertCount = 0;
    for (let e = 0; e < n; e++) if (indices[e] >= vertCount) vertCount = indices[e] + 1;
    const start = new Uint32Array(vertCount + 1);
    for (let t = 0; t < n; t += 3) {
      const a = indices[t];
      const b = indices[t + 1];
      const c = indices[t + 2];
      start[Math.min(a, b) + 1]++;
      start[Math.min(b, c) + 1]++;
      start[Math.min(c, a) + 1]++;
    }
    for (let v = 0; v < vertCount; v++) start[v + 1] += start[v];
    const fill = start.slice(0, vertCount);
    const bucket = new Uint32Array(n);
    for (let e = 0; e < n; e++) {
      const to = indices[e % 3 === 2 ? e - 2 : e + 1];
      bucket[fill[Math.min(indices[e], to)]++] = e;
    }
    const next = new Int32Array(n).fill(-1);
    const first = new Int32Array(n);
    const last = new Int32Array(n);
    // Slot of an upper vertex: the edge that last used it. It belongs to the bucket at hand when it was made in it.
    const slots = new Int32Array(vertCount).fill(-1);
    let count = 0;
    for (let low = 0; low < vertCount; low++) {
      const firstOfBucket = count;
      for (let i = start[low]; i < start[low + 1]; i++) {
        const e = bucket[i];
        const from = indices[e];
        const high = from === low ? indices[e % 3 === 2 ? e - 2 : e + 1] : from;
        const edge = slots[high];
        if (edge >= firstOfBucket) {
          next[last[edge]] = e;
          last[edge] = e;
        } else {
          slots[high] = count;
          first[count] = e;
          last[count++] = e;
        }
      }
    }
    this.count = count;
    this.first = first.slice(0, count);
    this.next = next;
  }
}
