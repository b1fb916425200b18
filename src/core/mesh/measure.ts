import type { TriMesh } from './TriMesh.ts';

/** Area of triangle `t`, in the square of the mesh's unit. */
export function triArea(mesh: TriMesh, t: number): number {
  const { positions: p, indices } = mesh;
  const a = 3 * indices[3 * t];
  const b = 3 * indices[3 * t + 1];
  const c = 3 * indices[3 * t + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  return Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
}

/** Area of all triangles, or of those whose `isCounted` is not 0. */
export function meshArea(mesh: TriMesh, isCounted?: Uint8Array): number {
  let sum = 0;
  const count = mesh.indices.length / 3;
  for (let t = 0; t < count; t++) if (isCounted?.[t] !== 0) sum += triArea(mesh, t);
  return sum;
}

/**
 * Volume between the surface and the plane z = 0, positive where the surface is wound outward: the sum over triangles of
 * mean height times signed projected area (divergence theorem with the field (0, 0, z)). A mesh that is closed, or open
 * only on z = 0, gets the volume that it encloses with that plane, since a cap in z = 0 adds nothing.
 */
export function signedVolume(mesh: TriMesh): number {
  const { positions: p, indices } = mesh;
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    const twice = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]);
    sum += twice * (p[a + 2] + p[b + 2] + p[c + 2]);
  }
  return sum / 6;
}
