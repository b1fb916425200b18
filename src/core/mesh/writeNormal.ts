import type { TriMesh } from './TriMesh.ts';

/**
 * Writes the area vector of the triangle of vertices i j k to out[0..2]: the normal of the side from which they are
 * counter-clockwise, times twice the area (square of the positions' unit). Returns its length; 0 for points on a line.
 */
export function writeNormal(p: Float64Array, i: number, j: number, k: number, out: Float64Array): number {
  const a = 3 * i;
  const b = 3 * j;
  const c = 3 * k;
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

/** As `writeNormal`, of triangle `tri` of a mesh. */
export function writeTriNormal({ positions, indices }: TriMesh, tri: number, out: Float64Array): number {
  return writeNormal(positions, indices[3 * tri], indices[3 * tri + 1], indices[3 * tri + 2], out);
}
