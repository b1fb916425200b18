import type { Box, Vec3 } from '../core/mesh/TriMesh.ts';
import type { CropPlane } from '../core/plan/PlanDocument.ts';

/** A cut as it is chosen: where its normal points, toward what goes, and how far along it lies. Board frame. */
export interface CutDraft {
  readonly kind: CutKind;
  /** Where the side that goes lies, seen from above: degrees from +x, counter-clockwise, 0 to 360. */
  readonly azimuthDeg: number;
  /** How far the normal rises above level, degrees, -90 to 90: -90 cuts away what is below, 0 is an upright cut. */
  readonly slopeDeg: number;
  /** normal . x <= offsetMm is kept, mm. */
  readonly offsetMm: number;
}

/** level: above or below a height. upright: from a side. free: any slant. */
export type CutKind = 'level' | 'upright' | 'free';

/** Sides by the azimuth of the eye that looks at them: the front faces -y. */
export const SIDE_AZIMUTHS_DEG = { left: 180, right: 0, front: 270, back: 90 } as const;
export type Side = keyof typeof SIDE_AZIMUTHS_DEG;

/** A new cut takes off so much of the mould's extent, share: enough to be seen. Own choice. */
const FIRST_SHARE = 0.05;
/** A slant to begin with, from level, degrees. Own choice. */
const FIRST_SLOPE_DEG = -60;

/** Toward what goes; length 1, exact along the axes. */
export function cutNormal({ azimuthDeg, slopeDeg }: Pick<CutDraft, 'azimuthDeg' | 'slopeDeg'>): Vec3 {
  const level = cosDeg(slopeDeg);
  return [level * cosDeg(azimuthDeg) + 0, level * cosDeg(azimuthDeg - 90) + 0, cosDeg(slopeDeg - 90) + 0];
}

export const planeOfCut = (draft: CutDraft): CropPlane => ({
  normal: cutNormal(draft),
  offsetMm: draft.offsetMm,
});

/** How far a box reaches along a direction, mm: the greatest normal . x of its points. */
export function reachAlong({ min, max }: Box, normal: Vec3): number {
  return normal.reduce((sum, n, k) => sum + n * (n > 0 ? max[k] : min[k]), 0);
}

/** How deep the cut goes into the box from the side that it comes from, mm; for a level cut from below: its height above the board. */
export function cutDepthMm(draft: CutDraft, box: Box): number {
  return reachAlong(box, cutNormal(draft)) - draft.offsetMm + 0;
}

export function withDepth(draft: CutDraft, depthMm: number, box: Box): CutDraft {
  return { ...draft, offsetMm: reachAlong(box, cutNormal(draft)) - depthMm };
}

/** A cut of this kind to begin with: it takes a little off, from below, from the left, or slantwise from below the front. */
export function firstCut(kind: CutKind, box: Box): CutDraft {
  const azimuthDeg = kind === 'upright' ? SIDE_AZIMUTHS_DEG.left : SIDE_AZIMUTHS_DEG.front;
  const slopeDeg = kind === 'level' ? -90 : kind === 'upright' ? 0 : FIRST_SLOPE_DEG;
  return aimed({ kind, azimuthDeg, slopeDeg, offsetMm: 0 }, {}, box);
}

/** The cut aimed elsewhere, taking a little off from there: its old offset would mean nothing along another normal. */
export function aimed(
  draft: CutDraft,
  change: Partial<Pick<CutDraft, 'azimuthDeg' | 'slopeDeg'>>,
  box: Box,
): CutDraft {
  const next = { ...draft, ...change };
  const normal = cutNormal(next);
  const depthMm = FIRST_SHARE * (reachAlong(box, normal) + reachAlong(box, opposite(normal)));
  return withDepth(next, depthMm, box);
}

/** The cut slanted otherwise about the middle of what it cuts, so that it turns where it stands. */
export function slanted(
  draft: CutDraft,
  change: Partial<Pick<CutDraft, 'azimuthDeg' | 'slopeDeg'>>,
  aboutMm: Vec3,
): CutDraft {
  const next = { ...draft, ...change };
  return { ...next, offsetMm: cutNormal(next).reduce((sum, n, k) => sum + n * aboutMm[k], 0) };
}

/** The same plane with the other side going. */
export function flipped(draft: CutDraft): CutDraft {
  const isLevel = Math.abs(draft.slopeDeg) === 90;
  return {
    ...draft,
    azimuthDeg: isLevel ? draft.azimuthDeg : (draft.azimuthDeg + 180) % 360,
    slopeDeg: -draft.slopeDeg + 0,
    offsetMm: -draft.offsetMm + 0,
  };
}

/** The plan's plane as a draft, to be moved. */
export function draftOfCrop({ normal, offsetMm }: CropPlane): CutDraft {
  const length = Math.hypot(...normal);
  const [x, y, z] = normal.map((n) => n / length);
  const level = Math.hypot(x, y);
  const kind = level < 1e-9 ? 'level' : Math.abs(z) < 1e-9 ? 'upright' : 'free';
  const azimuthDeg = kind === 'level' ? SIDE_AZIMUTHS_DEG.front : degrees(Math.atan2(y, x));
  const slopeDeg = kind === 'level' ? 90 * Math.sign(z) : degrees(Math.atan2(z, level));
  return { kind, azimuthDeg: (azimuthDeg + 360) % 360, slopeDeg, offsetMm: offsetMm / length };
}

const opposite = ([x, y, z]: Vec3): Vec3 => [-x, -y, -z];

const degrees = (angleRad: number): number => Number(((angleRad * 180) / Math.PI).toFixed(9));

/** Exact for multiples of a right angle. */
function cosDeg(angleDeg: number): number {
  const quarter = angleDeg / 90;
  if (Number.isInteger(quarter)) return [1, 0, -1, 0][((quarter % 4) + 4) % 4];
  return Math.cos((angleDeg * Math.PI) / 180);
}
