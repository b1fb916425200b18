import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/** The eight winds from the right (+x), counter-clockwise seen from above, as one stands before the mould (at -y). */
const WINDS = [
  'to the right',
  'back and right',
  'to the back',
  'back and left',
  'to the left',
  'forward and left',
  'forward',
  'forward and right',
] as const;

/** A pull in words of the hands: "forward", "back and left", "up" where it is nearer to the plumb line than to the board. */
export function sayWayOff([x, y, z]: Vec3): string {
  if (Math.abs(z) > Math.SQRT1_2) return z > 0 ? 'up' : 'down';
  const eighths = Math.round((4 * Math.atan2(y, x)) / Math.PI);
  return WINDS[(eighths + 8) % 8];
}
