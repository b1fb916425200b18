import type { TriMesh } from './TriMesh.ts';

/**
 * Writes the area vector of triangle `tri` to out[0..2]: its outward normal (counter-clockwise seen from outside) times
 * twice its area, mm2. Returns its length, twice the area; 0 for a triangle that is none.
 */
export function writeTriNormal({ positions: p, indices }: TriMesh, tri: number, out: Float64Array): number {
  const a = indices[3 * tri] * 3;
  const b = indices[3 * tri + 1] * 3;
  const c = indices[3 * tri + 2] * 3;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  out[0] = nx;
  out[1] = ny;
  out[2] = nz;
  return Math.sqrt(nx * nx + ny * ny + nz * nz);
}
