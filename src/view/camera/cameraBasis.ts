import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/** Unit vectors of the camera in the world: to the right and up in the picture, and back from target to camera. */
export interface CameraBasis {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly back: Vec3;
}

/**
 * Right-handed basis (right x up = back) for a camera direction. Built from the angles, not from a look-at, so that
 * it stays defined when the camera looks straight down. Source: spherical coordinates.
 */
export function cameraBasis(azimuthRad: number, polarRad: number): CameraBasis {
  const ca = Math.cos(azimuthRad);
  const sa = Math.sin(azimuthRad);
  const cp = Math.cos(polarRad);
  const sp = Math.sin(polarRad);
  return {
    right: [-sa, ca, 0],
    up: [-cp * ca, -cp * sa, sp],
    back: [sp * ca, sp * sa, cp],
  };
}

export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** a + s b. */
export const addScaled = (a: Vec3, b: Vec3, s: number): Vec3 => [
  a[0] + s * b[0],
  a[1] + s * b[1],
  a[2] + s * b[2],
];
