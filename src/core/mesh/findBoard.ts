import { boxOfCounted } from './boxOfCounted.ts';
import type { OpenLoop } from './measureLoop.ts';
import type { TriMesh } from './TriMesh.ts';
import { writeTriNormal } from './writeNormal.ts';

/** A base is flat when it lies within this share of the height, and never more than the next, of one level. Own choice. */
const FLAT_SHARE = 0.002;
/** Casting floors and print beds leave bases flat to half a millimetre: common practice, no source, mm. */
const FLAT_MOST_MM = 0.5;
/** A base or base loop covers at least this share of the footprint. */
const LEAST_COVER = 0.05;
/** Faces of a base face down to within acos(0.9) = 26 degrees. */
const FACING_DOWN = 0.9;
/** A loop whose points differ in height by at most this share of the scan's height is cut off level; more gets a skirt. */
const RAGGED_SHARE = 0.08;
/** The middle of a base loop lies within this share of the height from the low end. */
const LOW_SHARE = 0.25;

export interface FoundBoard {
  /** Height of the board along z, mm. */
  readonly heightMm: number;
  /** flat: a flat base. loop: a level open loop. ragged: the highest point of a ragged loop. skirt: the lowest point of a loop too ragged to cut. lowest: none of these, the lowest point. */
  readonly by: 'flat' | 'loop' | 'ragged' | 'skirt' | 'lowest';
  /** Faces and vertices of the base within this of the board are part of it, mm. */
  readonly toleranceMm: number;
  /** Difference in height of the loop's points, mm; 0 for a base. */
  readonly raggedMm: number;
  /** The loop that it was found by, if it was. */
  readonly loop: OpenLoop | null;
  /** Of what counts: low end to high end, and the box seen from above. */
  readonly scanHeightMm: number;
  readonly footprintMm2: number;
}

/** How far a base may be from level and still be the face that stands on the board, mm. */
export function baseToleranceMm(heightMm: number): number {
  return Math.min(FLAT_MOST_MM, FLAT_SHARE * heightMm);
}

/**
 * Where the board is, for a mesh that stands upright along z: under a flat base, else at the lowest large open loop, else
 * at the lowest point. `isCounted` leaves crumbs (scraps of the table) out. O(n).
 */
export function findBoard(mesh: TriMesh, loops: readonly OpenLoop[], isCounted: Uint8Array): FoundBoard {
  const { min, max } = boxOfCounted(mesh, isCounted);
  const height = max[2] - min[2];
  const footprint = (max[0] - min[0]) * (max[1] - min[1]);
  const toleranceMm = baseToleranceMm(height);

  const size = { toleranceMm, scanHeightMm: height, footprintMm2: footprint };

  const base = measureBase(mesh, isCounted, min[2], 2 * toleranceMm);
  if (base.area >= LEAST_COVER * footprint) {
    return { ...size, heightMm: base.levelMm, by: 'flat', raggedMm: 0, loop: null };
  }

  let lowest: OpenLoop | null = null;
  for (const loop of loops) {
    const isLarge = -loop.lid[2] >= LEAST_COVER * footprint;
    const isLow = loop.centre[2] - min[2] <= LOW_SHARE * height;
    if (isLarge && isLow && (lowest === null || loop.centre[2] < lowest.centre[2])) lowest = loop;
  }
  if (lowest === null) return { ...size, heightMm: min[2], by: 'lowest', raggedMm: 0, loop: null };
  const raggedMm = lowest.max[2] - lowest.min[2];
  const byLoop = { ...size, raggedMm, loop: lowest };
  if (raggedMm <= 2 * toleranceMm) {
    return { ...byLoop, heightMm: lowest.centre[2], by: 'loop' };
  }
  if (raggedMm <= RAGGED_SHARE * height) {
    return { ...byLoop, heightMm: lowest.max[2], by: 'ragged' };
  }
  return { ...byLoop, heightMm: lowest.min[2], by: 'skirt' };
}

/** Area of the faces that look down within `reach` of the low end, and the level that halves it (area-weighted median). */
function measureBase(
  mesh: TriMesh,
  isCounted: Uint8Array,
  low: number,
  reach: number,
): { area: number; levelMm: number } {
  const { positions: p, indices } = mesh;
  const levels: { z: number; area: number }[] = [];
  const scratch = new Float64Array(3);
  let area = 0;
  for (let t = 0; t < isCounted.length; t++) {
    if (isCounted[t] === 0) continue;
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    if (Math.max(p[a + 2], p[b + 2], p[c + 2]) - low > reach) continue;
    const down = -facingUp(mesh, t, scratch);
    if (down < FACING_DOWN) continue;
    const own = Math.abs((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])) / 2;
    area += own;
    levels.push({ z: (p[a + 2] + p[b + 2] + p[c + 2]) / 3, area: own });
  }
  levels.sort((x, y) => x.z - y.z);
  let below = 0;
  for (const level of levels) {
    below += level.area;
    if (2 * below >= area) return { area, levelMm: level.z };
  }
  return { area: 0, levelMm: low };
}

/** The z of the unit normal of triangle `t`; 0 when it has no area. `scratch` holds three numbers. */
export function facingUp(mesh: TriMesh, t: number, scratch: Float64Array): number {
  const twice = writeTriNormal(mesh, t, scratch);
  return twice > 0 ? scratch[2] / twice : 0;
}
