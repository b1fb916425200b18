import type { ThinGround } from './findThinSpots.ts';
import { curvatureOver } from './predictAtVerts.ts';

/**
 * What levelling fills, by region, mm3: over each vertex its fill times the area at the middle of it, by the curvature there. Rough: in tight
 * hollows, where the fills of neighbours meet, the area is taken as what is left of it, at least none.
 */
export function measureFill(
  { thicknessMm, curvature, innerMm, vertRegion, regionCount }: ThinGround,
  fillMm: Float64Array,
): Float64Array {
  const out = new Float64Array(regionCount);
  for (let v = 0; v < fillMm.length; v++) {
    const region = vertRegion[v];
    if (region < 0 || !(fillMm[v] > 0) || !Number.isFinite(thicknessMm[v])) continue;
    const { meanPerMm, gaussPerMm2, stretch } = curvatureOver(curvature, v, innerMm);
    const middle = thicknessMm[v] - fillMm[v] / 2;
    const growth = 1 + 2 * meanPerMm * middle + gaussPerMm2 * middle * middle;
    out[region] += fillMm[v] * curvature.areaMm2[v] * stretch * Math.min(1, Math.max(0, growth));
  }
  return out;
}
