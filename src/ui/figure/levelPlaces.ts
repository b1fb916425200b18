import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { boundsOf } from '../boundsOf.ts';

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

/**
 * Places on the lines of some quantity where a number can stand, spread over the piece.
 *
 * @param valueAt of a corner of the picture's triangles; NaN keeps the triangle out
 * @param steepest where the quantity rises faster than this, for each mm of surface, lines run together and bear no label
 * Cost: one pass over the triangles for each level.
 */
export function levelPlaces(
  rubber: SurfacePicture,
  valueAt: (corner: number) => number,
  levels: readonly number[],
  steepest: number,
): LevelPlace[] {
  const { min, max } = boundsOf(rubber);
  const apartMm = APART_SHARE * Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  return levels.flatMap((level) => placesOf(rubber, valueAt, level, steepest, apartMm));
}

function placesOf(
  { positions: p, indices }: SurfacePicture,
  valueAt: (corner: number) => number,
  level: number,
  steepest: number,
  apartMm: number,
): LevelPlace[] {
  const out: LevelPlace[] = [];
  for (let t = 0; t < indices.length / 3 && out.length < MOST_A_LEVEL; t++) {
    for (let k = 0; k < 3; k++) {
      const from = valueAt(3 * t + k);
      const rise = valueAt(3 * t + ((k + 1) % 3)) - from;
      const share = (level - from) / rise;
      if (!(share > 0 && share < 1)) continue;
      const i = indices[3 * t + k];
      const j = indices[3 * t + ((k + 1) % 3)];
      const side = Math.hypot(p[3 * j] - p[3 * i], p[3 * j + 1] - p[3 * i + 1], p[3 * j + 2] - p[3 * i + 2]);
      if (Math.abs(rise) > steepest * side) continue;
      const at: Vec3 = [
        p[3 * i] + share * (p[3 * j] - p[3 * i]),
        p[3 * i + 1] + share * (p[3 * j + 1] - p[3 * i + 1]),
        p[3 * i + 2] + share * (p[3 * j + 2] - p[3 * i + 2]),
      ];
      const isNear = out.some(
        (one) => Math.hypot(one.at[0] - at[0], one.at[1] - at[1], one.at[2] - at[2]) < apartMm,
      );
      if (!isNear) out.push({ level, at, normal: normalOf(p, indices, t) });
      break;
    }
  }
  return out;
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
