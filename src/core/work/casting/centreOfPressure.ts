import type { Vec3 } from '../../mesh/TriMesh.ts';
import { PRESS, PRESS_WIDTH } from './pressOnRegions.ts';

/** Below this share of the thrust a resultant is rounding, and has no line of action. */
const NO_RESULTANT_SHARE = 1e-9;

/**
 * Where the force on a region acts, mm: the point of its line of action that lies nearest to the middle of the pressure. On
 * a flat face the two are one, the centre of pressure of the textbooks; on a curved one the line passes through air, and
 * this is the place on it that belongs to the piece. Without a resultant (pressed alike from all sides): the middle of the pressure.
 * Null where nothing presses.
 */
export function centreOfPressure(press: Float64Array, region: number): Vec3 | null {
  const row = region * PRESS_WIDTH;
  const thrust = press[row + PRESS.thrust];
  if (!(thrust > 0)) return null;
  const middle = [0, 1, 2].map((k) => press[row + PRESS.thrustAt + k] / thrust);
  const [fx, fy, fz] = press.subarray(row + PRESS.force, row + PRESS.force + 3);
  const [mx, my, mz] = press.subarray(row + PRESS.moment, row + PRESS.moment + 3);
  const square = fx * fx + fy * fy + fz * fz;
  if (square <= (NO_RESULTANT_SHARE * thrust) ** 2) return [middle[0], middle[1], middle[2]];
  // F x M / F2: the point of the line nearest to the origin.
  const near = [(fy * mz - fz * my) / square, (fz * mx - fx * mz) / square, (fx * my - fy * mx) / square];
  const along =
    ((middle[0] - near[0]) * fx + (middle[1] - near[1]) * fy + (middle[2] - near[2]) * fz) / square;
  return [near[0] + along * fx, near[1] + along * fy, near[2] + along * fz];
}
