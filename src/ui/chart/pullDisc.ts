import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/**
 * The half sphere of pulls (the whole one, for a body that stands on nothing) as a disc seen from above: straight up in the
 * middle, level pulls on the rim, distance from the middle even in degrees. The front (-y) is at the foot.
 */
export interface PullDisc {
  /** Angle from straight up at the rim, degrees: 90 on a board, 180 without one. */
  readonly rimDeg: number;
}

const DEG = 180 / Math.PI;

/** Nearer to level, or to straight up, than this the pull is taken for that, degrees: a hand on a chart is no finer. */
const SNAP_DEG = 4;

/** The disc that holds all of these directions (n x 3, unit). */
export function discOf(directions: Float32Array): PullDisc {
  let lowest = 1;
  for (let i = 2; i < directions.length; i += 3) lowest = Math.min(lowest, directions[i]);
  // Half a degree of slack, for directions on the rim that were rounded to Float32.
  return { rimDeg: lowest < -0.01 ? 180 : 90 };
}

/** Place of a pull on a disc of radius 1, x to the right, y down the screen. A pull below the rim lies outside. */
export function placeOnDisc({ rimDeg }: PullDisc, pull: Vec3): { readonly x: number; readonly y: number } {
  const level = Math.hypot(pull[0], pull[1]);
  if (level === 0) return { x: 0, y: pull[2] > 0 ? 0 : -180 / rimDeg };
  const r = (Math.atan2(level, pull[2]) * DEG) / rimDeg;
  return { x: (r * pull[0]) / level, y: (-r * pull[1]) / level };
}

/** The pull at a place on the disc of radius 1; outside, that of the nearest place on the rim. */
export function pullAt({ rimDeg }: PullDisc, x: number, y: number): Vec3 {
  const r = Math.hypot(x, y);
  const polarRad = (Math.min(1, r) * rimDeg) / DEG;
  if (r === 0) return [0, 0, 1];
  const level = Math.sin(polarRad);
  return [(level * x) / r, (-level * y) / r, Math.cos(polarRad)];
}

/** Rise of a pull above the level, degrees; negative: downward. */
export function tiltDeg(pull: Vec3): number {
  return Math.round(Math.atan2(pull[2], Math.hypot(pull[0], pull[1])) * DEG * 10) / 10;
}

/** Unit pull of an azimuth (from +x, counter-clockwise from above) and a rise above the level, degrees. */
export function pullOf(azimuthDeg: number, riseDeg: number): Vec3 {
  if (riseDeg >= 90) return [0, 0, 1];
  if (riseDeg <= -90) return [0, 0, -1];
  const azimuth = azimuthDeg / DEG;
  const rise = riseDeg / DEG;
  const level = Math.cos(rise);
  return [level * Math.cos(azimuth), level * Math.sin(azimuth), Math.sin(rise)];
}

/** The pull to whole degrees, drawn to level or to straight up when it is nearly so. */
export function roundPull(pull: Vec3): Vec3 {
  const rise = Math.atan2(pull[2], Math.hypot(pull[0], pull[1])) * DEG;
  const azimuth = Math.round(Math.atan2(pull[1], pull[0]) * DEG);
  if (Math.abs(rise) < SNAP_DEG) return pullOf(azimuth, 0);
  if (rise > 90 - SNAP_DEG) return [0, 0, 1];
  return pullOf(azimuth, Math.round(rise));
}

/** The pull turned and tilted by so many degrees, kept on the disc. Straight up, a turn alone changes nothing. */
export function stepPull({ rimDeg }: PullDisc, pull: Vec3, turnDeg: number, riseByDeg: number): Vec3 {
  const azimuth = Math.atan2(pull[1], pull[0]) * DEG;
  const rise = Math.min(90, Math.max(90 - rimDeg, tiltDeg(pull) + riseByDeg));
  return pullOf(azimuth + turnDeg, rise);
}
