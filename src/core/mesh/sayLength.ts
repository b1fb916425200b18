import { MM_PER_INCH } from '../plan/lengthUnits.ts';
import type { UnitSystem } from '../units.ts';
import { threeDigits } from './guessUnit.ts';

/** A length found in a scan, to three digits however small: "0.0123 mm"; "0.00484 in". No fractions: nobody measures it. */
export function sayLength(valueMm: number, system: UnitSystem): string {
  return system === 'us' ? `${threeDigits(valueMm / MM_PER_INCH)} in` : `${threeDigits(valueMm)} mm`;
}
