import type { Vec3 } from '../core/mesh/TriMesh.ts';
import { UP_AXES, type UpAxis } from '../core/plan/PlanDocument.ts';
import { uprightTurnTilt } from '../core/plan/uprightTurnTilt.ts';

/** Three rows of three, row after row: x' = r[0] x + r[1] y + r[2] z, and so on. Orthogonal, determinant 1. */
export type Rotation = readonly number[];

export const NO_TURN: Rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** How the plan writes a rotation down: first the axis up, then the turn about z, then the tilts about x and y. */
export interface UprightAngles {
  readonly up: UpAxis;
  /** 0 to 360, counter-clockwise seen from above. */
  readonly turnDeg: number;
  /** About x, then about y; each within 55 degrees, since `up` is the axis that comes nearest to pointing up. */
  readonly tiltDeg: readonly [number, number];
}

/** Angles are written to a millionth of a degree: 0.02 micrometres on a metre, and quarter turns stay whole numbers. */
const DIGITS = 6;

/** The rotation that the plan's angles stand for, file axes to board axes; the composition is the plan's own. */
export function rotationOf({ up, turnDeg, tiltDeg }: UprightAngles): Rotation {
  const a = uprightTurnTilt(up, turnDeg, tiltDeg);
  return [a[0], a[1], a[2], a[4], a[5], a[6], a[8], a[9], a[10]];
}

/**
 * The plan's angles for any rotation of the file into the board's axes, the inverse of `rotationOf` up to the choice of
 * the axis: the one that the rotation brings nearest to z. Its image then has a z of at least 1 / sqrt 3, so neither
 * tilt comes near a quarter turn, where turn and tilt could not be told apart.
 *
 * Source: own arithmetic. With M = Ry(b) Rx(a) Rz(c): M's third column is (sin b cos a, -sin a, cos b cos a) and its
 * second row begins (cos a sin c, cos a cos c).
 */
export function anglesOfRotation(rotation: Rotation): UprightAngles {
  let up: UpAxis = 'z';
  let highest = -Infinity;
  for (const axis of UP_AXES) {
    const z = rotation[6 + AXIS_INDEX[axis]] * AXIS_SIGN[axis];
    // Between axes that come equally near the first in the list stays: the outcome must not hang on the last digit.
    if (z > highest + 1e-9) {
      highest = z;
      up = axis;
    }
  }
  const upright = rotationOf({ up, turnDeg: 0, tiltDeg: [0, 0] });
  const m = multiply(rotation, transposed(upright));
  const tiltX = Math.asin(Math.min(1, Math.max(-1, -m[5])));
  const tiltY = Math.atan2(m[2], m[8]);
  const turn = Math.atan2(m[3], m[4]);
  const turnDeg = roundDeg(turn);
  return { up, turnDeg: ((turnDeg % 360) + 360) % 360, tiltDeg: [roundDeg(tiltX), roundDeg(tiltY)] };
}

/** Does `first`, then `second`. */
export function multiply(second: Rotation, first: Rotation): Rotation {
  const out: number[] = [];
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      out.push(
        second[3 * r] * first[c] + second[3 * r + 1] * first[3 + c] + second[3 * r + 2] * first[6 + c],
      );
    }
  }
  return out;
}

/** About a unit axis by an angle, right-handed. Source: Rodrigues' formula. */
export function rotationAbout([x, y, z]: Vec3, angleRad: number): Rotation {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const d = 1 - c;
  // biome-ignore format: one row of the matrix a line.
  return [
    c + x * x * d, x * y * d - z * s, x * z * d + y * s,
    x * y * d + z * s, c + y * y * d, y * z * d - x * s,
    x * z * d - y * s, y * z * d + x * s, c + z * z * d,
  ];
}

/** The shortest turn that takes one unit vector to another; for opposite ones, half round about a level axis square to both. */
export function rotationBetween(from: Vec3, to: Vec3): Rotation {
  const [x, y, z] = [
    from[1] * to[2] - from[2] * to[1],
    from[2] * to[0] - from[0] * to[2],
    from[0] * to[1] - from[1] * to[0],
  ];
  const sine = Math.hypot(x, y, z);
  const cosine = from[0] * to[0] + from[1] * to[1] + from[2] * to[2];
  if (sine > 1e-12) return rotationAbout([x / sine, y / sine, z / sine], Math.atan2(sine, cosine));
  if (cosine > 0) return NO_TURN;
  const level = Math.hypot(from[0], from[1]);
  return rotationAbout(level > 1e-9 ? [-from[1] / level, from[0] / level, 0] : [1, 0, 0], Math.PI);
}

/**
 * The standing without its tilt, when that is no more than `withinDeg`: the axis that nearly points up points up. Otherwise
 * the rotation itself. The turn seen from above stays.
 */
export function snapLevel(rotation: Rotation, withinDeg: number): Rotation {
  const angles = anglesOfRotation(rotation);
  const [x, y] = angles.tiltDeg.map((deg) => (deg * Math.PI) / 180);
  // The axis's image has a z of cos x cos y.
  const tiltDeg = (Math.acos(Math.min(1, Math.cos(x) * Math.cos(y))) * 180) / Math.PI;
  return tiltDeg <= withinDeg ? rotationOf({ ...angles, tiltDeg: [0, 0] }) : rotation;
}

/** The rotation back. */
export const transposed = (r: Rotation): Rotation => [r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]];

const AXIS_INDEX: Readonly<Record<UpAxis, number>> = { x: 0, '-x': 0, y: 1, '-y': 1, z: 2, '-z': 2 };
const AXIS_SIGN: Readonly<Record<UpAxis, number>> = { x: 1, '-x': -1, y: 1, '-y': -1, z: 1, '-z': -1 };

function roundDeg(angleRad: number): number {
  // Adding zero turns a minus zero into a plain one, which JSON and people read alike.
  return Number(((angleRad * 180) / Math.PI).toFixed(DIGITS)) + 0;
}
