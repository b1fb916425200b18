import type { MouldFill } from './MouldFill.ts';

/** Numbers kept for each region by `pressOnRegions`; the names below say where each stands. */
export const PRESS_WIDTH = 13;
export const PRESS = {
  /** Force of the fluid, N: x, y, z. */
  force: 0,
  /** Moment of that force about the origin of the board frame, N mm: x, y, z. */
  moment: 3,
  /** Integral of pressure over area, N: what the force would be if all of it pointed one way. */
  thrust: 6,
  /** Integral of pressure times place over area, N mm: x, y, z; over `thrust`, the middle of the pressure. */
  thrustAt: 7,
  /** Area under pressure, mm2. */
  wetMm2: 10,
  /** Integral over that area of the normal's z times the depth, counted upward or downward as it grows, mm3; see `filledVolume`. */
  depthFlux: 11,
  /** Greatest depth, mm. */
  deepest: 12,
} as const;

/** A square millimetre in square metres: Pa x mm2 to N. */
const M2_PER_MM2 = 1e-6;

/**
 * Force of a fluid inside on each region of a surface wound outward: integral of p n with p growing linearly with depth.
 * Exact for each triangle: over a flat triangle the mean of a linear p is the mean of its corners, and its first moment
 * (area/12)(sum p sum x + sum p x); a triangle that the level crosses is cut there first. A face in the level itself bears nothing but counts as wet.
 *
 * @param triRegion region of each triangle; those below 0 are gathered in the row after the last region.
 * @returns (regionCount + 1) x PRESS_WIDTH, laid out as PRESS says.
 * Cost: one pass over the triangles. Source: own; first moments of a triangle as in any table of quadratures.
 */
export function pressOnRegions(
  positions: Float64Array,
  indices: Uint32Array,
  triRegion: Int32Array,
  regionCount: number,
  fill: MouldFill,
): Float64Array {
  const out = new Float64Array((regionCount + 1) * PRESS_WIDTH);
  const { depthPerMm, depthAtBoardMm, paPerMm } = fill;
  // Corners of the wet part of a triangle, at most four, as x y z depth.
  const wet = new Float64Array(16);
  const corner = new Float64Array(12);
  const triCount = triRegion.length;
  for (let t = 0; t < triCount; t++) {
    let dryCorners = 0;
    for (let k = 0; k < 3; k++) {
      const v = 3 * indices[3 * t + k];
      const z = positions[v + 2];
      corner[4 * k] = positions[v];
      corner[4 * k + 1] = positions[v + 1];
      corner[4 * k + 2] = z;
      corner[4 * k + 3] = depthPerMm * z + depthAtBoardMm;
      if (corner[4 * k + 3] < 0) dryCorners++;
    }
    if (dryCorners === 3) continue;
    const region = triRegion[t] < 0 ? regionCount : triRegion[t];
    const row = region * PRESS_WIDTH;
    if (dryCorners === 0) {
      addTriangle(corner, 0, 4, 8, paPerMm, depthPerMm, out, row);
      continue;
    }
    const count = cutAtLevel(corner, wet);
    for (let k = 2; k < count; k++) {
      addTriangle(wet, 0, 4 * (k - 1), 4 * k, paPerMm, depthPerMm, out, row);
    }
  }
  return out;
}

/** The part of a triangle below the level, as a fan's corners in the same turn; returns their number, 3 or 4. */
function cutAtLevel(corner: Float64Array, wet: Float64Array): number {
  let count = 0;
  for (let k = 0; k < 3; k++) {
    const a = 4 * k;
    const b = 4 * ((k + 1) % 3);
    const depthA = corner[a + 3];
    const depthB = corner[b + 3];
    if (depthA > 0) {
      for (let n = 0; n < 4; n++) wet[4 * count + n] = corner[a + n];
      count++;
    }
    if (depthA > 0 !== depthB > 0) {
      const share = depthA / (depthA - depthB);
      for (let n = 0; n < 3; n++)
        wet[4 * count + n] = corner[a + n] + share * (corner[b + n] - corner[a + n]);
      wet[4 * count + 3] = 0;
      count++;
    }
  }
  return count;
}

/** Adds the pressure on the triangle whose corners (x y z depth) begin at a, b, c. */
function addTriangle(
  at: Float64Array,
  a: number,
  b: number,
  c: number,
  paPerMm: number,
  depthPerMm: number,
  out: Float64Array,
  row: number,
): void {
  const ux = at[b] - at[a];
  const uy = at[b + 1] - at[a + 1];
  const uz = at[b + 2] - at[a + 2];
  const vx = at[c] - at[a];
  const vy = at[c + 1] - at[a + 1];
  const vz = at[c + 2] - at[a + 2];
  // Half of the cross product: normal times area.
  const nx = (uy * vz - uz * vy) / 2;
  const ny = (uz * vx - ux * vz) / 2;
  const nz = (ux * vy - uy * vx) / 2;
  const areaMm2 = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (areaMm2 === 0) return;
  const dA = at[a + 3];
  const dB = at[b + 3];
  const dC = at[c + 3];
  const sum = dA + dB + dC;
  const toN = paPerMm * M2_PER_MM2;
  const mean = (toN * sum) / 3;
  // First moment of the pressure for each unit of area, from which the thrust's place and the moment follow.
  const toMoment = toN / 12;
  const mx = toMoment * (sum * (at[a] + at[b] + at[c]) + dA * at[a] + dB * at[b] + dC * at[c]);
  const my =
    toMoment * (sum * (at[a + 1] + at[b + 1] + at[c + 1]) + dA * at[a + 1] + dB * at[b + 1] + dC * at[c + 1]);
  const mz =
    toMoment * (sum * (at[a + 2] + at[b + 2] + at[c + 2]) + dA * at[a + 2] + dB * at[b + 2] + dC * at[c + 2]);
  out[row + PRESS.force] += mean * nx;
  out[row + PRESS.force + 1] += mean * ny;
  out[row + PRESS.force + 2] += mean * nz;
  out[row + PRESS.moment] += my * nz - mz * ny;
  out[row + PRESS.moment + 1] += mz * nx - mx * nz;
  out[row + PRESS.moment + 2] += mx * ny - my * nx;
  out[row + PRESS.thrust] += mean * areaMm2;
  out[row + PRESS.thrustAt] += mx * areaMm2;
  out[row + PRESS.thrustAt + 1] += my * areaMm2;
  out[row + PRESS.thrustAt + 2] += mz * areaMm2;
  out[row + PRESS.wetMm2] += areaMm2;
  out[row + PRESS.depthFlux] += (depthPerMm * sum * nz) / 3;
  const deepest = Math.max(dA, dB, dC);
  if (deepest > out[row + PRESS.deepest]) out[row + PRESS.deepest] = deepest;
}
