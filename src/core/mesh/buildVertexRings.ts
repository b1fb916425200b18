/** For each vertex the triangles that touch it, as one flat list. */
export interface VertexRings {
  /** vertCount + 1: triangles of vertex v are tris[start[v]] ... tris[start[v + 1] - 1]. */
  readonly start: Uint32Array;
  readonly tris: Uint32Array;
}

/** The triangles around every vertex, in the order of the triangles. O(n). */
export function buildVertexRings(indices: Uint32Array, vertCount: number): VertexRings {
  const start = new Uint32Array(vertCount + 1);
  for (let i = 0; i < indices.length; i++) start[indices[i] + 1]++;
  for (let v = 0; v < vertCount; v++) start[v + 1] += start[v];
  const next = start.slice(0, vertCount);
  const tris = new Uint32Array(indices.length);
  for (let i = 0; i < indices.length; i++) tris[next[indices[i]]++] = (i / 3) | 0;
  return { start, tris };
}
