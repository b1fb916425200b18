import type { CutSurface } from './types.ts';

/** Share of a label's area that must come to lie in one region. A choice: lines cut corners, they must not lose limbs. */
const LEAST_LABEL_SHARE = 0.8;

/**
 * The label of each region of a cut, when every label has come to lie in a region of its own with most of its area; null
 * when it has not.
 *
 * @param labels by vertex, below 0: none. @param areas by vertex, mm2.
 * @param cutVertex by vertex the vertex of the cut surface that it is; left out: the same.
 * Cost: O(triangles).
 */
export function labelOfRegions(
  cut: CutSurface,
  labels: Int32Array,
  areas: ArrayLike<number>,
  labelCount: number,
  cutVertex?: ArrayLike<number>,
): Int32Array | null {
  const { regionCount, cutTriRegion, indices } = cut;
  if (regionCount !== labelCount) return null;
  const regionOfVertex = new Int32Array(cut.positions.length / 3).fill(-1);
  for (let t = 0; t < cutTriRegion.length; t++) {
    for (let k = 0; k < 3; k++) regionOfVertex[indices[3 * t + k]] = cutTriRegion[t];
  }
  // Area of each label in each region, by the whole area of a vertex to the region of a triangle at it.
  const shared = new Float64Array(regionCount * labelCount);
  const whole = new Float64Array(labelCount);
  const known = cutVertex?.length ?? Math.min(labels.length, regionOfVertex.length);
  for (let v = 0; v < known; v++) {
    const region = regionOfVertex[cutVertex ? cutVertex[v] : v];
    if (labels[v] < 0 || region < 0) continue;
    shared[region * labelCount + labels[v]] += areas[v];
    whole[labels[v]] += areas[v];
  }
  const labelOf = new Int32Array(regionCount).fill(-1);
  for (let k = 0; k < labelCount; k++) {
    for (let r = 0; r < regionCount; r++) {
      if (!(shared[r * labelCount + k] > LEAST_LABEL_SHARE * whole[k])) continue;
      if (labelOf[r] >= 0) return null;
      labelOf[r] = k;
    }
  }
  return labelOf.includes(-1) ? null : labelOf;
}
