import { vectorLength } from '../mesh/vectorLength.ts';
import type { SurfaceContext } from '../parting/SurfaceContext.ts';

/** Looks at one spot: each at least halves what is left, but in the tightest folds. */
const LOOKS = 12;
/** A spot counts as nearest while nothing else is nearer by more than this share. */
const NEARER_SHARE = 1e-4;

/**
 * How far from a point of S along a direction that point stays the nearest one of S, and the way stays above the board, mm.
 *
 * Source: a ball that touches S at the point shrinks until nothing of S is inside it (Ma, Bae and Choi 2012, named from memory).
 *
 * @param points, directions n x 3 each; the one numbered `n` is asked about. mm; unit outward.
 * @param farthestMm no reach is longer.
 */
export function measureReach(
  surface: SurfaceContext,
  points: Float64Array,
  directions: Float64Array,
  n: number,
  farthestMm: number,
): number {
  const x = points[3 * n];
  const y = points[3 * n + 1];
  const z = points[3 * n + 2];
  const dx = directions[3 * n];
  const dy = directions[3 * n + 1];
  const dz = directions[3 * n + 2];
  let reach = farthestMm;
  if (surface.standsOnBoard && dz < 0) reach = Math.min(reach, Math.max(0, z / -dz));
  for (let look = 0; look < LOOKS && reach > 0; look++) {
    const near = surface.closestPoint([x + reach * dx, y + reach * dy, z + reach * dz]);
    const ex = near.x - x;
    const ey = near.y - y;
    const ez = near.z - z;
    const away = vectorLength(ex - reach * dx, ey - reach * dy, ez - reach * dz);
    if (away >= reach * (1 - NEARER_SHARE)) break;
    const out = ex * dx + ey * dy + ez * dz;
    const next = out > 0 ? (ex * ex + ey * ey + ez * ez) / (2 * out) : 0;
    if (!(next < reach)) break;
    reach = next;
  }
  return reach;
}
