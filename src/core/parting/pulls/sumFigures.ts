import type { FaceMeasures } from './FaceMeasures.ts';

/** A direction's figures, by region. */
export interface RegionFigures {
  readonly areaMm2: Float64Array;
  readonly depthMm: Float64Array;
  readonly fillerMm3: Float64Array;
  /** Sine of the least angle between the region's faces and the direction. */
  readonly leastSine: Float64Array;
}

/**
 * What a direction leaves hidden, by region: area, greatest depth, filler, least draft.
 *
 * @param labels by face the region, or -1: not counted.
 * @param dx..dz unit direction. @param hidden, depthMm by face, as SweepRaster.look writes them.
 *
 * Filler is the volume under what hides: by the divergence theorem the sum over hidden faces of the area seen along the
 * direction times the height over a floor, added under faces that face away and taken off over those they overshadow. It
 * is right to the mesh where a column ends on the region itself or on the board. Where it ends on the parting wall, the
 * floor is level with the region's lowest point along the direction, as if the wall were flat: 9 % below the ruled wall for a
 * ball covered to 20 degrees below its equator; more with a line that wanders. Where more is overshadowed than faces away
 * (a cavity shared with another piece), columns end on the parting wall at their upper end, and that is taken as level with
 * the highest hidden face. Good for comparing directions. Never below 0.
 * Cost: O(n), 0.1 ms for 15 000 faces.
 */
export function sumFigures(
  faces: FaceMeasures,
  labels: Int32Array,
  regionCount: number,
  dx: number,
  dy: number,
  dz: number,
  hidden: Uint8Array,
  depthMm: Float32Array,
  standsOnBoard: boolean,
): RegionFigures {
  const { normals, areaMm2: areas, middles } = faces;
  const areaMm2 = new Float64Array(regionCount);
  const deepest = new Float64Array(regionCount);
  const fillerMm3 = new Float64Array(regionCount);
  const leastSine = new Float64Array(regionCount).fill(1);
  const floors = new Float64Array(regionCount).fill(Infinity);
  for (let t = 0, at = 0; t < labels.length; t++, at += 3) {
    const region = labels[t];
    if (region < 0) continue;
    const height = middles[at] * dx + middles[at + 1] * dy + middles[at + 2] * dz;
    if (height < floors[region]) floors[region] = height;
    if (areas[t] === 0) continue;
    const sine = normals[at] * dx + normals[at + 1] * dy + normals[at + 2] * dz;
    if (sine < leastSine[region]) leastSine[region] = sine;
  }
  const tops = new Float64Array(regionCount).fill(-Infinity);
  const shadeMm2 = new Float64Array(regionCount);
  const hasFloor = standsOnBoard && dz > 0;
  for (let t = 0, at = 0; t < labels.length; t++, at += 3) {
    const region = labels[t];
    if (region < 0 || !hidden[t]) continue;
    areaMm2[region] += areas[t];
    if (depthMm[t] > deepest[region]) deepest[region] = depthMm[t];
    const sine = normals[at] * dx + normals[at + 1] * dy + normals[at + 2] * dz;
    let length = middles[at] * dx + middles[at + 1] * dy + middles[at + 2] * dz - floors[region];
    if (length > tops[region]) tops[region] = length;
    shadeMm2[region] += sine * areas[t];
    // Down to the board along the direction, where that comes first.
    if (hasFloor && middles[at + 2] < length * dz) length = middles[at + 2] / dz;
    fillerMm3[region] -= sine * areas[t] * length;
  }
  for (let region = 0; region < regionCount; region++) {
    if (shadeMm2[region] > 0) fillerMm3[region] += shadeMm2[region] * tops[region];
    fillerMm3[region] = Math.max(0, fillerMm3[region]);
  }
  return { areaMm2, depthMm: deepest, fillerMm3, leastSine };
}
