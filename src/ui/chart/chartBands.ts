import { contours } from 'd3-contour';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import { nearestDirection } from './nearestDirection.ts';
import { type PullDisc, pullAt } from './pullDisc.ts';

/** Points a side of the raster laid over the disc: three degrees apart on a half sphere, closer than the directions. */
const RASTER = 61;
/** How far the raster reaches beyond the rim, so that bands run out over it and are clipped there. */
const REACH = 1.05;
/** Width of the bell by which values are spread between directions, as a share of the grid's step: no dents, little blur. */
const BELL_SHARE = 0.5;
/** Directions farther away than this many widths weigh nothing (e to the minus 8). */
const BELL_REACH = 4;
/** Below this sum of weights the bell holds no direction worth a mean. */
const LEAST_WEIGHT = 1e-3;

export interface ChartBand {
  /** Values in the band are at least this. */
  readonly level: number;
  /** SVG path on a disc of radius 1, even-odd. */
  readonly path: string;
}

/** Values of directions spread over the disc; row by row from the back left, RASTER a side. */
export interface DiscRaster {
  readonly values: Float64Array;
  readonly size: number;
}

/** What each of the raster's points takes from the directions: those from `starts[p]` to `starts[p + 1]` - 1, by shares that sum to 1. */
interface DiscShares {
  readonly starts: Uint32Array;
  readonly directions: readonly number[];
  readonly shares: readonly number[];
}

/** The same directions are spread again for each quantity that is charted. */
const known = new WeakMap<Float32Array, DiscShares>();

/**
 * The values of directions (n x 3, unit, about `stepDeg` apart) laid out on the disc: a mean of the directions round
 * about by a bell of half a step; where none is so near, the nearest one's.
 */
export function spreadOnDisc(
  disc: PullDisc,
  directions: Float32Array,
  values: ArrayLike<number>,
  stepDeg: number,
): DiscRaster {
  let taken = known.get(directions);
  if (taken === undefined) {
    for (const _pause of prepareDisc(disc, directions, stepDeg));
    taken = known.get(directions) as DiscShares;
  }
  const { starts, shares } = taken;
  const out = new Float64Array(RASTER * RASTER);
  for (let p = 0; p < out.length; p++) {
    for (let k = starts[p]; k < starts[p + 1]; k++) out[p] += shares[k] * values[taken.directions[k]];
  }
  return { values: out, size: RASTER };
}

/** True when these directions can be spread without more ado. */
export const isDiscReady = (directions: Float32Array): boolean => known.has(directions);

/**
 * Finds out once which directions each of the raster's points takes from, and pauses after each row. Cost: a fraction of the
 * directions for each point, since only those of about the same height are looked at.
 */
export function* prepareDisc(disc: PullDisc, directions: Float32Array, stepDeg: number): Generator<void> {
  const starts = new Uint32Array(RASTER * RASTER + 1);
  const from: number[] = [];
  const shares: number[] = [];
  const bellRad = (BELL_SHARE * stepDeg * Math.PI) / 180;
  // Twice 1 - cos of an angle is its square, near enough for angles that weigh anything.
  const scale = 1 / bellRad ** 2;
  const reachRad = Math.min(Math.PI, BELL_REACH * bellRad);
  const farthest = Math.cos(reachRad);
  const count = directions.length / 3;
  const byHeight = Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => directions[3 * a + 2] - directions[3 * b + 2],
  );
  const heights = Float32Array.from(byHeight, (i) => directions[3 * i + 2]);
  for (let row = 0; row < RASTER; row++) {
    yield;
    for (let column = 0; column < RASTER; column++) {
      const pull = pullAt(disc, rasterPlace(column), rasterPlace(row));
      const [x, y, z] = pull;
      const polarRad = Math.acos(Math.min(1, Math.max(-1, z)));
      const top = Math.cos(Math.max(0, polarRad - reachRad));
      const first = from.length;
      let weights = 0;
      for (
        let k = firstAtLeast(heights, Math.cos(Math.min(Math.PI, polarRad + reachRad)));
        k < count && heights[k] <= top;
        k++
      ) {
        const i = byHeight[k];
        const cosine = x * directions[3 * i] + y * directions[3 * i + 1] + z * directions[3 * i + 2];
        if (cosine < farthest) continue;
        const weight = Math.exp((cosine - 1) * scale);
        from.push(i);
        shares.push(weight);
        weights += weight;
      }
      if (weights > LEAST_WEIGHT) {
        for (let k = first; k < from.length; k++) shares[k] /= weights;
      } else {
        from.length = first;
        shares.length = first;
        const nearest = nearestDirection(directions, pull);
        if (nearest >= 0) {
          from.push(nearest);
          shares.push(1);
        }
      }
      starts[row * RASTER + column + 1] = from.length;
    }
  }
  known.set(directions, { starts, directions: from, shares });
}

/** Index of the first of rising numbers that is not less than `least`. */
function firstAtLeast(rising: Float32Array, least: number): number {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rising[middle] < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** 1 where the nearest of the directions belongs to the set, else 0, spread over the disc with soft borders. */
export function spreadSet(
  disc: PullDisc,
  directions: Float32Array,
  set: readonly Vec3[],
  stepDeg: number,
): DiscRaster {
  const nearlySame = Math.cos((stepDeg * Math.PI) / 360);
  const isIn = Float32Array.from({ length: directions.length / 3 }, (_, i) =>
    set.some(
      (d) =>
        d[0] * directions[3 * i] + d[1] * directions[3 * i + 1] + d[2] * directions[3 * i + 2] > nearlySame,
    )
      ? 1
      : 0,
  );
  return spreadOnDisc(disc, directions, isIn, stepDeg);
}

/** The part of the disc where the values reach each level (marching squares of d3-contour). */
export function bandsOf({ values, size }: DiscRaster, levels: readonly number[]): ChartBand[] {
  const generator = contours().size([size, size]);
  const list = Array.from(values);
  return levels.map((level) => ({ level, path: pathOf(generator.contour(list, level).coordinates) }));
}

function rasterPlace(i: number): number {
  return REACH * ((2 * i) / (RASTER - 1) - 1);
}

/** d3 puts the value of point (i, j) at (i + 0.5, j + 0.5). */
function pathOf(polygons: readonly (readonly (readonly number[][])[])[]): string {
  const place = (t: number): string => (REACH * ((2 * (t - 0.5)) / (RASTER - 1) - 1)).toFixed(4);
  let path = '';
  for (const polygon of polygons) {
    for (const ring of polygon) {
      path += `M${ring.map(([x, y]) => `${place(x)} ${place(y)}`).join('L')}Z`;
    }
  }
  return path;
}
