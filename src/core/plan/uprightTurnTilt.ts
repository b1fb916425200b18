import { type Affine, composeAffine, IDENTITY } from '../mesh/affine.ts';
import type { UpAxis } from './PlanDocument.ts';

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
