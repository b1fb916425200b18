import { writeStl } from '../../src/io/writeStl.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

export const DOME_RADIUS_MM = 40;

/** An STL of a half sphere that stands open on the board: quick to plan, and its coats have a closed form. */
export function domeScan(): Uint8Array {
  return writeStl(openHalfSphere(DOME_RADIUS_MM, 24), 'dome');
}

/** Volume between distances a and b over the half sphere, above the board, mm3: the difference of two half balls. */
export function domeCoatMm3(fromMm: number, toMm: number): number {
  const outer = DOME_RADIUS_MM + toMm;
  const inner = DOME_RADIUS_MM + fromMm;
  return ((2 * Math.PI) / 3) * (outer ** 3 - inner ** 3);
}
