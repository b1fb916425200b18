import type { VertexCurvature } from './measureCurvature.ts';
import { mostHeight, predictThickness } from './predictThickness.ts';

/** Predicted thickness at every vertex, mm (Infinity where a hollow fills, NaN off S). */
export function predictAtVerts(curvature: VertexCurvature, laidMm: number, innerMm: number): Float64Array {
  const out = new Float64Array(curvature.areaMm2.length);
  for (let v = 0; v < out.length; v++) {
    if (curvature.areaMm2[v] === 0) {
      out[v] = Number.NaN;
      continue;
    }
    const { meanPerMm, gaussPerMm2, stretch } = curvatureOver(curvature, v, innerMm);
    out[v] = stretch <= 0 ? Infinity : predictThickness(laidMm, meanPerMm, gaussPerMm2);
  }
  return out;
}

/**
 * How far the shell's outside lies over each vertex of the scan, mm, `innerMm` of rubber over a bare pattern among it. Where a
 * hollow fills, up to where it is full; NaN off S.
 */
export function outsideAtVerts(
  thicknessMm: Float64Array,
  curvature: VertexCurvature,
  laidMm: number,
  innerMm: number,
): Float64Array {
  const out = new Float64Array(thicknessMm.length);
  for (let v = 0; v < out.length; v++) {
    out[v] = innerMm + thicknessMm[v];
    if (thicknessMm[v] !== Infinity) continue;
    const { meanPerMm, gaussPerMm2, stretch } = curvatureOver(curvature, v, innerMm);
    const full = stretch <= 0 ? Infinity : mostHeight(meanPerMm, gaussPerMm2);
    // Where the rubber alone fills it, what is laid lies over that.
    out[v] = innerMm + (full === Infinity ? laidMm : full);
  }
  return out;
}

/** Curvatures of the surface at distance `innerMm`, where the shell begins over a bare pattern, and how much larger it is there. */
export function curvatureOver(
  { meanPerMm, gaussPerMm2 }: VertexCurvature,
  v: number,
  innerMm: number,
): { readonly meanPerMm: number; readonly gaussPerMm2: number; readonly stretch: number } {
  const mean = meanPerMm[v];
  const gauss = gaussPerMm2[v];
  const stretch = 1 + 2 * mean * innerMm + gauss * innerMm * innerMm;
  return {
    meanPerMm: (mean + gauss * innerMm) / stretch,
    gaussPerMm2: gauss / stretch,
    stretch,
  };
}
