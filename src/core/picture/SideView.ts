import type { Vec3 } from '../mesh/TriMesh.ts';

export const SIDES = ['front', 'right', 'back', 'left'] as const;
/** From where the mould is seen: its front looks along -y, its right is at +x, as one faces it. */
export type Side = (typeof SIDES)[number];

/** Where the eye stands for each side, degrees from +x, counter-clockwise seen from above. */
export const AZIMUTH_DEG: Readonly<Record<Side, number>> = { front: -90, right: 0, back: 90, left: 180 };

/** Axes of a picture, unit vectors of the board frame: to the right, upward, and toward the eye. */
export interface SideAxes {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toEye: Vec3;
}

/** Axes of an orthographic view from an azimuth and a height over the horizon, degrees. Right-handed: right x up = toEye. */
export function axesOf(azimuthDeg: number, elevationDeg: number): SideAxes {
  const a = (azimuthDeg * Math.PI) / 180;
  const e = (elevationDeg * Math.PI) / 180;
  const [ca, sa, ce, se] = [Math.cos(a), Math.sin(a), Math.cos(e), Math.sin(e)];
  return {
    right: [-sa, ca, 0],
    up: [-ca * se, -sa * se, ce],
    toEye: [ca * ce, sa * ce, se],
  };
}
