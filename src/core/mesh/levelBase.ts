import { facingUp } from './findBoard.ts';
import type { TriMesh } from './TriMesh.ts';

/** Faces of the base face down to within acos(0.9) = 26 degrees. */
const FACING_DOWN = 0.9;

/**
 * The mesh with its uneven base brought level: vertices of down-facing faces that lie wholly within `reachMm` of z = 0,
 * and of the level open loop given, are set on z = 0. Returns how many vertices moved and the farthest move.
 */
export function levelBase(
  mesh: TriMesh,
  reachMm: number,
  rimVerts: readonly number[],
): { mesh: TriMesh; moved: number; farthestMm: number } {
  const { indices } = mesh;
  const p = mesh.positions;
  const isBase = new Uint8Array(p.length / 3);
  for (const v of rimVerts) isBase[v] = 1;
  const scratch = new Float64Array(3);
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    if (Math.abs(p[a + 2]) > reachMm || Math.abs(p[b + 2]) > reachMm || Math.abs(p[c + 2]) > reachMm)
      continue;
    if (-facingUp(mesh, i / 3, scratch) < FACING_DOWN) continue;
    for (let k = 0; k < 3; k++) isBase[indices[i + k]] = 1;
  }
  let moved = 0;
  let farthestMm = 0;
  const positions = p.slice();
  for (let v = 0; v < isBase.length; v++) {
    if (isBase[v] === 0 || p[3 * v + 2] === 0) continue;
    moved++;
    farthestMm = Math.max(farthestMm, Math.abs(p[3 * v + 2]));
    positions[3 * v + 2] = 0;
  }
  return { mesh: moved > 0 ? { positions, indices } : mesh, moved, farthestMm };
}
