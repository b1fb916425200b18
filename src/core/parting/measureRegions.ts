import type { Vec3 } from '../mesh/TriMesh.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import { TILE_SUMS } from './SurfaceTiles.ts';
import { sumOfRegions } from './sumOfRegions.ts';
import { CROSSED, type CutSurface } from './types.ts';

/** How a region lies and faces. */
export interface RegionFacing {
  readonly areaMm2: number;
  /** Sum of normal times area, mm2: its length is at most the area. */
  readonly areaVector: Vec3;
  /** Area-weighted middle, mm. */
  readonly centreMm: Vec3;
  /** A stretch of the rim belongs to it. */
  readonly touchesBoard: boolean;
}

/** The facing of every region of the cut surface. O(tiles and the triangles in those that a line touches). */
export function measureRegions(surface: SurfaceContext, cut: CutSurface): RegionFacing[] {
  const sums = sumOfRegions(cut);
  const touches = regionsAtRim(surface, cut);
  return Array.from({ length: cut.regionCount }, (_, i): RegionFacing => {
    const s = sums.subarray(TILE_SUMS * i, TILE_SUMS * (i + 1));
    return {
      areaMm2: s[0],
      areaVector: [s[1], s[2], s[3]],
      centreMm: [s[4] / s[0], s[5] / s[0], s[6] / s[0]],
      touchesBoard: touches[i] === 1,
    };
  });
}

/** 1 for regions with a stretch of the rim. */
function regionsAtRim(surface: SurfaceContext, cut: CutSurface): Uint8Array {
  const { triRegion, cutTriRegion, cutTriSource, indices, parts } = cut;
  const touches = new Uint8Array(cut.regionCount);
  const isCrossedRim = new Uint8Array(surface.triCount);
  let isAnyCrossed = false;
  for (const h of surface.rim) {
    const t = (h / 3) | 0;
    if (triRegion[t] >= 0) {
      touches[triRegion[t]] = 1;
    } else if (triRegion[t] === CROSSED) {
      isCrossedRim[t] = 1;
      isAnyCrossed = true;
    }
  }
  if (!isAnyCrossed) return touches;
  for (const i of parts.loose) {
    if (isCrossedRim[cutTriSource[i]] === 0) continue;
    // A crossed rim triangle counts for the parts that still hold one of its rim's ends.
    const isAtEnd = [0, 1, 2].some((k) => surface.isOnRim[indices[3 * i + k]] === 1);
    if (isAtEnd) touches[cutTriRegion[i]] = 1;
  }
  return touches;
}
