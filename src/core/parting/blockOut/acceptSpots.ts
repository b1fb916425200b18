import type { Vec3 } from '../../mesh/TriMesh.ts';
import { newClosestPoint, SurfaceTree } from '../../spatial/SurfaceTree.ts';
import type { CutSurface } from '../types.ts';
import { type FillableUndercut, isFillable } from './BlockOut.ts';

/**
 * A point counts for the nearest spot within this share of the surface's diagonal. A choice: a click beside a spot
 * still means it, and a point left over from other lines does not fill something on the far side.
 */
export const SPOT_REACH_SHARE = 0.02;

/**
 * By spot 1 when it is to be filled. 'all': deeper than `giveMm`; else the one nearest to each point, within reach.
 * O(hidden triangles) and a nearest-point query a point.
 */
export function acceptSpots(
  cut: CutSurface,
  undercut: FillableUndercut,
  accepted: 'all' | readonly Vec3[],
  giveMm: number,
  diagonalMm: number,
): Uint8Array {
  const isAccepted = new Uint8Array(undercut.spots.length);
  if (accepted === 'all') {
    undercut.spots.forEach((spot, s) => {
      if (spot.maxDepthMm > giveMm) isAccepted[s] = 1;
    });
    return isAccepted;
  }
  const tris: number[] = [];
  for (let t = 0; t < undercut.triSpot.length; t++) {
    if (undercut.triSpot[t] >= 0 && isFillable(undercut.triKind[t])) tris.push(t);
  }
  if (tris.length === 0) return isAccepted;
  const indices = new Uint32Array(3 * tris.length);
  tris.forEach((t, n) => {
    indices.set(cut.indices.subarray(3 * t, 3 * t + 3), 3 * n);
  });
  const tree = new SurfaceTree({ positions: cut.positions, indices });
  const near = newClosestPoint();
  for (const [x, y, z] of accepted) {
    tree.closestPoint(x, y, z, near);
    if (near.distance <= SPOT_REACH_SHARE * diagonalMm) isAccepted[undercut.triSpot[tris[near.tri]]] = 1;
  }
  return isAccepted;
}
