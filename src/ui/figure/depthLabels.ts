import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture, UndercutPicture } from '../../jobs/protocol.ts';
import { levelPlaces } from './levelPlaces.ts';

export interface DepthLabel {
  readonly levelMm: number;
  /** On the line of this depth, board frame, mm. */
  readonly at: Vec3;
  /** Of the rubber there, outward, unit. */
  readonly normal: Vec3;
}

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
  const { depthMm, kind } = undercut;
  const depthAt = (corner: number): number =>
    kind[Math.floor(corner / 3)] === 0 ? Number.NaN : depthMm[rubber.indices[corner]];
  const labels = levelPlaces(rubber, depthAt, levelsMm, STEEPEST).map(({ level, at, normal }) => ({
    levelMm: level,
    at,
    normal,
  }));
  known.set(undercut, { key, labels });
  return labels;
}
