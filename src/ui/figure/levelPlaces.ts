import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';

export interface LevelPlace {
  readonly level: number;
  /** On the line of this level, board frame, mm. */
  readonly at: Vec3;
  /** Of the rubber there, outward, unit. */
  readonly normal: Vec3;
}

/** Places tried for each level: enough that one is in sight from nearly anywhere, few enough to test each frame. */
const MOST_A_LEVEL = 8;
/** Labels of one level stand at least this far apart, share of the piece's diagonal. */
const APART_SHARE = 0.12;
/** Triangles between two pauses. */
const STEP_TRIANGLES = 4000;

/**
 * Places on the lines of some quantity where a number can stand, spread over the piece.
 *
 * @param valueAt of a corner of the picture's triangles; NaN keeps the triangle out
 * @param steepest where the quantity rises faster than this, for each mm of surface, lines run together and bear no label
 * Cost: one pass over the triangles, until every level has its places; pauses every millisecond or so.
 */
export function* levelPlaces(
  rubber: SurfacePicture,
  valueAt: (corner: number) => number,
  levels: readonly number[],
  steepest: number,
): Generator<void, readonly LevelPlace[]> {
  const apartMm = APART_SHARE * diagonalMm(rubber.positions);
  const places = levels.map((): LevelPlace[] => []);
  const corners = [0, 0, 0];
  const triCount = rubber.indices.length / 3;
  for (let t = 0; t < triCount; t++) {
    if (t % STEP_TRIANGLES === STEP_TRIANGLES - 1) yield;
    for (let k = 0; k < 3; k++) corners[k] = valueAt(3 * t + k);
    const low = Math.min(...corners);
    const high = Math.max(...corners);
    // Not so either where a corner's value is NaN.
    if (!(low < high)) continue;
    for (let n = 0; n < levels.length; n++) {
      if (levels[n] <= low || levels[n] >= high || places[n].length >= MOST_A_LEVEL) continue;
      const at = placeOn(rubber, t, corners, levels[n], steepest);
      if (at === null) continue;
      if (places[n].some((one) => distance(one.at, at) < apartMm)) continue;
      places[n].push({ level: levels[n], at, normal: normalOf(rubber.positions, rubber.indices, t) });
      if (places.every((found) => found.length >= MOST_A_LEVEL)) return places.flat();
    }
  }
  return places.flat();
}

/** Where a level crosses a side of a triangle; null where it does so too steeply to bear a label. */
function placeOn(
  { positions: p, indices }: SurfacePicture,
  t: number,
  corners: readonly number[],
  level: number,
  steepest: number,
): Vec3 | null {
  for (let k = 0; k < 3; k++) {
    const rise = corners[(k + 1) % 3] - corners[k];
    const share = (level - corners[k]) / rise;
    if (!(share > 0 && share < 1)) continue;
    const i = 3 * indices[3 * t + k];
    const j = 3 * indices[3 * t + ((k + 1) % 3)];
    const [dx, dy, dz] = [p[j] - p[i], p[j + 1] - p[i + 1], p[j + 2] - p[i + 2]];
    if (Math.abs(rise) > steepest * Math.hypot(dx, dy, dz)) continue;
    return [p[i] + share * dx, p[i + 1] + share * dy, p[i + 2] + share * dz];
  }
  return null;
}

function distance(a: Vec3, b: Vec3): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function normalOf(p: Float32Array, indices: Uint32Array, t: number): Vec3 {
  const a = 3 * indices[3 * t];
  const b = 3 * indices[3 * t + 1];
  const c = 3 * indices[3 * t + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const n: Vec3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(n[0], n[1], n[2]) || 1;
  return [n[0] / length, n[1] / length, n[2] / length];
}

function diagonalMm(p: Float32Array): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      if (p[i + k] < min[k]) min[k] = p[i + k];
      if (p[i + k] > max[k]) max[k] = p[i + k];
    }
  }
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}
