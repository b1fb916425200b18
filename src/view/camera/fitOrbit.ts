import { addScaled, cameraBasis } from './cameraBasis.ts';
import { FIELD_OF_VIEW_RAD, type OrbitState, type Viewport } from './OrbitState.ts';

/** Each round centres the picture better; the error falls by the lens's slope (about 1/6), so five leave nothing to see. */
const ROUNDS = 5;

/** Room kept free on each side of the mould, CSS pixels, for captions and dimensions; never more than an eighth of the picture. */
export const FIT_MARGIN_PX = 56;

/**
 * The nearest camera of the given direction that sees all points with a margin, and the points' outline centred.
 * @param points n x 3, mm; at least one point
 * Cost: one pass a round over the points.
 */
export function fitOrbit(
  points: ArrayLike<number>,
  viewport: Viewport,
  azimuthRad: number,
  polarRad: number,
  marginPx = FIT_MARGIN_PX,
): OrbitState {
  const { right, up, back } = cameraBasis(azimuthRad, polarRad);
  const tan = Math.tan(FIELD_OF_VIEW_RAD / 2);
  const margin = Math.min(marginPx, viewport.width / 8, viewport.height / 8);
  const slopeY = (tan * (viewport.height - 2 * margin)) / viewport.height;
  const slopeX = (tan * (viewport.width - 2 * margin)) / viewport.height;

  let cx = 0;
  let cy = 0;
  let cz = 0;
  const count = points.length / 3;
  for (let i = 0; i < points.length; i += 3) {
    cx += points[i] / count;
    cy += points[i + 1] / count;
    cz += points[i + 2] / count;
  }
  let target: readonly [number, number, number] = [cx, cy, cz];
  let distanceMm = 1;
  for (let round = 0; round < ROUNDS; round++) {
    // The distance at which every point is inside the picture's four slanted sides.
    distanceMm = 0;
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i] - target[0];
      const y = points[i + 1] - target[1];
      const z = points[i + 2] - target[2];
      const toward = x * back[0] + y * back[1] + z * back[2];
      const across = Math.abs(x * right[0] + y * right[1] + z * right[2]);
      const above = Math.abs(x * up[0] + y * up[1] + z * up[2]);
      distanceMm = Math.max(distanceMm, across / slopeX + toward, above / slopeY + toward);
    }
    // Nothing to see but one point: any distance will do.
    distanceMm = Math.max(distanceMm, 1);
    if (round === ROUNDS - 1) break;
    let left = Infinity;
    let rightmost = -Infinity;
    let low = Infinity;
    let high = -Infinity;
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i] - target[0];
      const y = points[i + 1] - target[1];
      const z = points[i + 2] - target[2];
      const scale = distanceMm / (distanceMm - (x * back[0] + y * back[1] + z * back[2]));
      const across = (x * right[0] + y * right[1] + z * right[2]) * scale;
      const above = (x * up[0] + y * up[1] + z * up[2]) * scale;
      left = Math.min(left, across);
      rightmost = Math.max(rightmost, across);
      low = Math.min(low, above);
      high = Math.max(high, above);
    }
    target = addScaled(addScaled(target, right, (left + rightmost) / 2), up, (low + high) / 2);
  }
  return { target, azimuthRad, polarRad, distanceMm };
}
