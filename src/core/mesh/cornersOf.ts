import type { TriMesh } from './TriMesh.ts';

/** Places of the vertices, in the order of `verts`, n x 3: of a list of triangles, loose triangles. */
export function cornersOf(
  { positions: p }: Pick<TriMesh, 'positions'>,
  verts: ArrayLike<number>,
): Float64Array {
  const out = new Float64Array(3 * verts.length);
  for (let i = 0; i < verts.length; i++) {
    const v = 3 * verts[i];
    out[3 * i] = p[v];
    out[3 * i + 1] = p[v + 1];
    out[3 * i + 2] = p[v + 2];
  }
  return out;
}
