import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture, UndercutPicture } from '../../jobs/protocol.ts';
import { boundsOf } from '../boundsOf.ts';

export interface DepthLabel {
  readonly levelMm: number;
  /** On the line of this depth, board frame, mm. */
  readonly at: Vec3;
  /** Of the rubber there, outward, unit. */
  readonly normal: Vec3;
}

/** Places tried for each level: enough that one is in sight from nearly anywhere, few enough to test each frame. */
const MOST_A_LEVEL = 8;
/** Labels of one level stand at least this far apart, share of the piece's diagonal. */
const APART_SHARE = 0.12;
/** Where depth rises faster than this, mm for each mm of surface, lines run together and bear no label. */
const STEEPEST = 1.5;

const known = new WeakMap<
  UndercutPicture,
  { readonly key: string; readonly labels: readonly DepthLabel[] }
>();

/**
 * Places on the lines of depth where a number can stand, spread over the piece; kept as long as the picture lives.
 * Cost: one pass over the triangles for each level.
 */
export function depthLabels(
  rubber: SurfacePicture,
  undercut: UndercutPicture,
  levelsMm: readonly number[],
): readonly DepthLabel[] {
  const key = levelsMm.join(' ');
  const kept = known.get(undercut);
  if (kept?.key === key) return kept.labels;
  const { min, max } = boundsOf(rubber);
  const apartMm = APART_SHARE * Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const labels = levelsMm.flatMap((levelMm) => placesOf(rubber, undercut, levelMm, apartMm));
  known.set(undercut, { key, labels });
  return labels;
}

function placesOf(
  { positions: p, indices }: SurfacePicture,
  { depthMm, kind }: UndercutPicture,
  levelMm: number,
  apartMm: number,
): DepthLabel[] {
  const out: DepthLabel[] = [];
  for (let t = 0; t < kind.length && out.length < MOST_A_LEVEL; t++) {
    if (kind[t] === 0) continue;
    for (let k = 0; k < 3; k++) {
      const i = indices[3 * t + k];
      const j = indices[3 * t + ((k + 1) % 3)];
      const rise = depthMm[j] - depthMm[i];
      const share = (levelMm - depthMm[i]) / rise;
      if (!(share > 0 && share < 1)) continue;
      const side = Math.hypot(p[3 * j] - p[3 * i], p[3 * j + 1] - p[3 * i + 1], p[3 * j + 2] - p[3 * i + 2]);
      if (Math.abs(rise) > STEEPEST * side) continue;
      const at: Vec3 = [
        p[3 * i] + share * (p[3 * j] - p[3 * i]),
        p[3 * i + 1] + share * (p[3 * j + 1] - p[3 * i + 1]),
        p[3 * i + 2] + share * (p[3 * j + 2] - p[3 * i + 2]),
      ];
      const isNear = out.some(
        (one) => Math.hypot(one.at[0] - at[0], one.at[1] - at[1], one.at[2] - at[2]) < apartMm,
      );
      if (!isNear) out.push({ levelMm, at, normal: normalOf(p, indices, t) });
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
