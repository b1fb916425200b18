/**
 * Sum of the area vectors of the triangles round each vertex, n x 3: outward for counter-clockwise triangles, not of length 1,
 * zero for a vertex without triangles. One pass over the triangles.
 */
export function vertNormals(p: ArrayLike<number>, indices: ArrayLike<number>): Float64Array {
  const out = new Float64Array(p.length);
  for (let t = 0; t < indices.length; t += 3) {
    const a = 3 * indices[t];
    const b = 3 * indices[t + 1];
    const c = 3 * indices[t + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (let k = 0; k < 3; k++) {
      const at = 3 * indices[t + k];
      out[at] += nx;
      out[at + 1] += ny;
      out[at + 2] += nz;
    }
  }
  return out;
}
