import type { VertexCurvature } from './measureCurvature.ts';
import { predictThickness } from './predictThickness.ts';

export interface ThinReport {
  /** Least predicted thickness on the piece, mm; `laidMm` where every hollow fills or the piece has no vertex of its own. */
  readonly minMm: number;
  /** Area of rubber where the prediction is below the least allowed, mm2. */
  readonly areaBelowMm2: number;
}

/** Predicted thickness at every vertex, mm (Infinity where a hollow fills, NaN off S). */
export function predictAtVerts(curvature: VertexCurvature, laidMm: number, innerMm: number): Float64Array {
  const { meanPerMm, gaussPerMm2, areaMm2 } = curvature;
  const out = new Float64Array(areaMm2.length);
  for (let v = 0; v < out.length; v++) {
    if (areaMm2[v] === 0) {
      out[v] = Number.NaN;
      continue;
    }
    // Curvatures of the surface at distance innerMm, where the shell begins over a bare pattern.
    const mean = meanPerMm[v];
    const gauss = gaussPerMm2[v];
    const stretch = 1 + 2 * mean * innerMm + gauss * innerMm * innerMm;
    out[v] =
      stretch <= 0 ? Infinity : predictThickness(laidMm, (mean + gauss * innerMm) / stretch, gauss / stretch);
  }
  return out;
}

/** Thin spots by region; vertices without a region are left out. */
export function findThin(
  thicknessMm: Float64Array,
  areaMm2: Float64Array,
  vertRegion: Int32Array,
  regionCount: number,
  leastMm: number,
  laidMm: number,
): ThinReport[] {
  const minMm = new Float64Array(regionCount).fill(Infinity);
  const areaBelowMm2 = new Float64Array(regionCount);
  for (let v = 0; v < thicknessMm.length; v++) {
    const region = vertRegion[v];
    if (region < 0 || Number.isNaN(thicknessMm[v])) continue;
    if (thicknessMm[v] < minMm[region]) minMm[region] = thicknessMm[v];
    if (thicknessMm[v] < leastMm) areaBelowMm2[region] += areaMm2[v];
  }
  return Array.from(minMm, (min, region) => ({
    minMm: min === Infinity ? laidMm : min,
    areaBelowMm2: areaBelowMm2[region],
  }));
}
