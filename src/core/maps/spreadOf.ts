/** How the values of a map are spread over the surface. */
export interface Spread {
  readonly least: number;
  readonly most: number;
  /** Below `low` lie 2 % of the area, above `high` as much: a few wild spots do not stretch a map's range. */
  readonly low: number;
  readonly high: number;
}

/** Share of the area left out at either end. Own choice. */
const OUTER_SHARE = 0.02;
const BINS = 2048;

/** One piece's surface with the values at the corners of its triangles. */
export interface ValuedSurface {
  readonly positions: ArrayLike<number>;
  readonly indices: ArrayLike<number>;
  readonly corners: Float32Array;
}

/**
 * Spread of the finite values, each corner weighted by a third of its triangle's area. Null when there is none. The outer
 * values are good to 1/2048 of the whole span. Cost: two passes over the corners.
 */
export function spreadOf(surfaces: readonly ValuedSurface[]): Spread | null {
  let least = Infinity;
  let most = -Infinity;
  for (const { corners } of surfaces) {
    for (let c = 0; c < corners.length; c++) {
      const value = corners[c];
      if (!Number.isFinite(value)) continue;
      if (value < least) least = value;
      if (value > most) most = value;
    }
  }
  if (least > most) return null;
  const span = most - least;
  if (span === 0) return { least, most, low: least, high: most };
  const areas = new Float64Array(BINS);
  let total = 0;
  for (const { positions, indices, corners } of surfaces) {
    for (let t = 0; t < corners.length; t += 3) {
      const area = areaOf(positions, indices, t);
      for (let k = 0; k < 3; k++) {
        const value = corners[t + k];
        if (!Number.isFinite(value)) continue;
        areas[Math.min(BINS - 1, Math.floor((BINS * (value - least)) / span))] += area;
        total += area;
      }
    }
  }
  const reached = (share: number): number => {
    let sum = 0;
    for (let b = 0; b < BINS; b++) {
      sum += areas[b];
      if (sum >= share * total) return least + ((b + 0.5) / BINS) * span;
    }
    return most;
  };
  return { least, most, low: reached(OUTER_SHARE), high: reached(1 - OUTER_SHARE) };
}

function areaOf(p: ArrayLike<number>, indices: ArrayLike<number>, t: number): number {
  const a = 3 * indices[t];
  const b = 3 * indices[t + 1];
  const c = 3 * indices[t + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const x = uy * vz - uz * vy;
  const y = uz * vx - ux * vz;
  const z = ux * vy - uy * vx;
  return Math.sqrt(x * x + y * y + z * z);
}
