import type { TriMesh } from './TriMesh.ts';
import { writeTriNormal } from './writeNormal.ts';

/** Area of triangle `t`, in the square of the mesh's unit. */
export function triArea(mesh: TriMesh, t: number, scratch = new Float64Array(3)): number {
  return writeTriNormal(mesh, t, scratch) / 2;
}

/** Area of all triangles, or of those whose `isCounted` is not 0. */
export function meshArea(mesh: TriMesh, isCounted?: Uint8Array): number {
  let sum = 0;
  const count = mesh.indices.length / 3;
  const scratch = new Float64Array(3);
  for (let t = 0; t < count; t++) if (isCounted?.[t] !== 0) sum += triArea(mesh, t, scratch);
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
