import type { Rotation } from '../../session/uprightAngles.ts';

/** The lowest z of points (n x 3, mm) after a rotation about the origin, mm; 0 when there are none. O(n). */
export function lowestTurnedMm(positions: ArrayLike<number>, r: Rotation): number {
  const [x, y, z] = [r[6], r[7], r[8]];
  let low = Infinity;
  for (let i = 0; i < positions.length; i += 3) {
    const height = x * positions[i] + y * positions[i + 1] + z * positions[i + 2];
    if (height < low) low = height;
  }
  return low === Infinity ? 0 : low;
}
