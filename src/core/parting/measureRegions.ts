import type { Vec3 } from '../mesh/TriMesh.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import type { CutSurface } from './types.ts';

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

/** The facing of every region of the cut surface. O(n). */
export function measureRegions(surface: SurfaceContext, cut: CutSurface): RegionFacing[] {
  const { positions: p, indices, cutTriRegion, cutTriSource, regionCount } = cut;
  const sums = new Float64Array(7 * regionCount);
  const normal = new Float64Array(3);
  for (let t = 0; t < cutTriRegion.length; t++) {
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const area = writeTriNormal(cut, t, normal) / 2;
    const o = 7 * cutTriRegion[t];
    sums[o] += area;
    sums[o + 1] += normal[0] / 2;
    sums[o + 2] += normal[1] / 2;
    sums[o + 3] += normal[2] / 2;
    sums[o + 4] += (area * (p[a] + p[b] + p[c])) / 3;
    sums[o + 5] += (area * (p[a + 1] + p[b + 1] + p[c + 1])) / 3;
    sums[o + 6] += (area * (p[a + 2] + p[b + 2] + p[c + 2])) / 3;
  }
  const onRim = new Uint8Array(surface.triCount);
  const isRimVertex = new Uint8Array(cut.positions.length / 3);
  for (const h of surface.rim) {
    onRim[(h / 3) | 0] = 1;
    isRimVertex[surface.indices[h]] = 1;
    isRimVertex[surface.indices[h % 3 === 2 ? h - 2 : h + 1]] = 1;
  }
  const touches = new Uint8Array(regionCount);
  for (let t = 0; t < cutTriRegion.length; t++) {
    if (!onRim[cutTriSource[t]]) continue;
    // A crossed rim triangle counts for the parts that still hold one of its rim's ends.
    if (isRimVertex[indices[3 * t]] || isRimVertex[indices[3 * t + 1]] || isRimVertex[indices[3 * t + 2]]) {
      touches[cutTriRegion[t]] = 1;
    }
  }
  return Array.from({ length: regionCount }, (_, i): RegionFacing => {
    const s = sums.subarray(7 * i, 7 * i + 7);
    return {
      areaMm2: s[0],
      areaVector: [s[1], s[2], s[3]],
      centreMm: [s[4] / s[0], s[5] / s[0], s[6] / s[0]],
      touchesBoard: touches[i] === 1,
    };
  });
}
