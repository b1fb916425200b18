import { nextHalf, type SurfaceContext, type SurfacePoint } from '../SurfaceContext.ts';
import type { SurfacePatch } from './growPatch.ts';
import { nearestOnSegment } from './nearestOnSegment.ts';

/** The point of the rim (where S meets the board) nearest to `at` within a patch; null when the patch does not touch it. */
export function findRimNear(
  surface: SurfaceContext,
  patch: SurfacePatch,
  at: SurfacePoint,
): SurfacePoint | null {
  const { indices, links, isOnRim, positions: p, holeHalfFrom } = surface;
  let best = Infinity;
  let bestHalf = -1;
  let bestShare = 0;
  for (let n = 0; n < patch.innerCount; n++) {
    for (let h = 3 * patch.tris[n]; h < 3 * patch.tris[n] + 3; h++) {
      const a = indices[h];
      const b = indices[nextHalf(h)];
      // A hole that comes down to the rim shares vertices with it, its own border stays out.
      if (links[h] >= 0 || !isOnRim[a] || !isOnRim[b] || holeHalfFrom.get(a) === h) continue;
      const near = nearestOnSegment(
        [p[3 * a], p[3 * a + 1], p[3 * a + 2]],
        [p[3 * b], p[3 * b + 1], p[3 * b + 2]],
        [at.x, at.y, at.z],
      );
      if (near.distanceMm >= best) continue;
      best = near.distanceMm;
      bestHalf = h;
      bestShare = near.share;
    }
  }
  return bestHalf < 0 ? null : pointOnEdge(surface, bestHalf, bestShare);
}

/** The point of half-edge `half` at `share` from its origin. */
export function pointOnEdge(surface: SurfaceContext, half: number, share: number): SurfacePoint {
  const weights = [0, 0, 0];
  weights[half % 3] = 1 - share;
  weights[(half + 1) % 3] = share;
  return surface.pointFromWeights((half / 3) | 0, weights[0], weights[1], weights[2]);
}
