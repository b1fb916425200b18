import type { UpAxis } from '../plan/PlanDocument.ts';

/** Row-major 3 x 4: x' = a[0] x + a[1] y + a[2] z + a[3], and so on. */
export type Affine = readonly number[];

export const IDENTITY: Affine = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/** The affine map that does `first`, then `second`. */
export function composeAffine(second: Affine, first: Affine): Affine {
  const out: number[] = [];
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 4; c++) {
      let sum = c === 3 ? second[4 * r + 3] : 0;
      for (let k = 0; k < 3; k++) sum += second[4 * r + k] * first[4 * k + c];
      out.push(sum);
    }
  }
  return out;
}

/** The points (n x 3) mapped, as a new array. */
export function mapPoints(points: Float64Array, a: Affine): Float64Array {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    out[i] = a[0] * x + a[1] * y + a[2] * z + a[3];
    out[i + 1] = a[4] * x + a[5] * y + a[6] * z + a[7];
    out[i + 2] = a[8] * x + a[9] * y + a[10] * z + a[11];
  }
  return out;
}

export function scaleBy(factor: number): Affine {
  return [factor, 0, 0, 0, 0, factor, 0, 0, 0, 0, factor, 0];
}

export function shiftUp(heightMm: number): Affine {
  return [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, heightMm];
}

/** Proper rotations that bring the named axis up; x stays where it can, so that a figure keeps its front. */
const UPRIGHT: Readonly<Record<UpAxis, Affine>> = {
  z: IDENTITY,
  '-z': [1, 0, 0, 0, 0, -1, 0, 0, 0, 0, -1, 0],
  y: [1, 0, 0, 0, 0, 0, -1, 0, 0, 1, 0, 0],
  '-y': [1, 0, 0, 0, 0, 0, 1, 0, 0, -1, 0, 0],
  x: [0, 1, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0],
  '-x': [0, 1, 0, 0, 0, 0, -1, 0, -1, 0, 0, 0],
};

/** Up axis to z, then the turn about z, then the tilts about x and y; degrees, right-handed. */
export function uprightTurnTilt(
  up: UpAxis,
  turnDeg: number,
  [tiltXDeg, tiltYDeg]: readonly [number, number],
): Affine {
  const [ct, st] = cosSin(turnDeg);
  const [cx, sx] = cosSin(tiltXDeg);
  const [cy, sy] = cosSin(tiltYDeg);
  const turn: Affine = [ct, -st, 0, 0, st, ct, 0, 0, 0, 0, 1, 0];
  const tiltX: Affine = [1, 0, 0, 0, 0, cx, -sx, 0, 0, sx, cx, 0];
  const tiltY: Affine = [cy, 0, sy, 0, 0, 1, 0, 0, -sy, 0, cy, 0];
  return composeAffine(tiltY, composeAffine(tiltX, composeAffine(turn, UPRIGHT[up])));
}

/** Exact for multiples of a quarter turn, so that these leave coordinates untouched. */
function cosSin(degrees: number): readonly [number, number] {
  const quarter = degrees / 90;
  if (Number.isInteger(quarter)) {
    const n = ((quarter % 4) + 4) % 4;
    return [[1, 0, -1, 0][n], [0, 1, 0, -1][n]];
  }
  const angleRad = (degrees * Math.PI) / 180;
  return [Math.cos(angleRad), Math.sin(angleRad)];
}
