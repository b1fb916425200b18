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
    const ends = new Uint32Array(vertCount + 1);
    for (let t = 0; t < n; t += 3) {
      const a = indices[t];
      const b = indices[t + 1];
      const c = indices[t + 2];
      ends[Math.min(a, b) + 1]++;
      ends[Math.min(b, c) + 1]++;
      ends[Math.min(c, a) + 1]++;
    }
    for (let v = 0; v < vertCount; v++) ends[v + 1] += ends[v];
    // Filling moves each bucket's start on to its end. The upper vertex lies beside the half-edge, because looking it up again
    // by the half-edge would jump about in memory where the file has its triangles in no order.
    const bucket = new Uint32Array(n);
    const uppers = new Uint32Array(n);
    const put = (e: number, from: number, to: number): void => {
      const at = ends[Math.min(from, to)]++;
      bucket[at] = e;
      uppers[at] = Math.max(from, to);
    };
    for (let t = 0; t < n; t += 3) {
      const a = indices[t];
      const b = indices[t + 1];
      const c = indices[t + 2];
      put(t, a, b);
      put(t + 1, b, c);
      put(t + 2, c, a);
    }
    const next = new Int32Array(n).fill(-1);
    const first = new Int32Array(n);
    // By upper vertex: the edge that last used it, which belongs to the bucket at hand when it was made in it, and that edge's
    // last half-edge.
    const edgeAt = new Int32Array(vertCount).fill(-1);
    const lastAt = new Int32Array(vertCount);
    let count = 0;
    let i = 0;
    for (let low = 0; low < vertCount; low++) {
      const firstOfBucket = count;
      for (const end = ends[low]; i < end; i++) {
        const e = bucket[i];
        const high = uppers[i];
        if (edgeAt[high] >= firstOfBucket) {
          next[lastAt[high]] = e;
        } else {
          edgeAt[high] = count;
          first[count++] = e;
        }
        lastAt[high] = e;
      }
    }
    this.count = count;
    // The rest was never written to, and memory that is never touched costs nothing.
    this.first = first.subarray(0, count);
    this.next = next;
  }
}
