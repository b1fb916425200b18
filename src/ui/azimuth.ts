import type { Vec3 } from '../core/mesh/TriMesh.ts';

/** Direction of a pull seen from above, degrees from +x, counter-clockwise, 0..360. A pull straight up or down: 0. */
export function azimuthDeg(pull: Vec3): number {
  const deg = (Math.atan2(pull[1], pull[0]) * 180) / Math.PI;
  return (((Math.round(deg * 10) / 10) % 360) + 360) % 360;
}

/** True when the pull is nearer to the plumb line than to the board, where an azimuth says nothing. */
const isSteep = (pull: Vec3): boolean => Math.abs(pull[2]) > Math.SQRT1_2;

/** The pull in words, as seen by someone who stands in front of the mould (at -y). */
export function sayPull(pull: Vec3): string {
  if (isSteep(pull)) return pull[2] > 0 ? 'up' : 'down';
  const names = ['right', 'back right', 'back', 'back left', 'left', 'front left', 'front', 'front right'];
  return names[Math.round(azimuthDeg(pull) / 45) % 8];
}
