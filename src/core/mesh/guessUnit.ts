import { MM_PER_INCH, MM_PER_UNIT } from '../plan/lengthUnits.ts';
import type { LengthUnit } from '../plan/PlanDocument.ts';
import { groupDigits } from '../units.ts';

/** From here on a number is taken for millimetres: thumb-sized pieces and everything larger. Own choice. */
const LEAST_MM_SIZE = 20;
/** Below, down to here, for centimetres (a head of 16 is 160 mm); smaller numbers for metres. Own choice. */
const LEAST_CM_SIZE = 4;

/** The unit that makes the largest side of a unitless file a likely mould: metres, centimetres or millimetres. */
export function guessUnit(largestSide: number): LengthUnit {
  if (largestSide >= LEAST_MM_SIZE) return 'mm';
  return largestSide >= LEAST_CM_SIZE ? 'cm' : 'm';
}

const UNIT_NAMES: Readonly<Record<LengthUnit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
};

/** "The file names no unit. Taken as metres: its longest side is 1 800 mm (70.9 in). In another unit it would be 1.80 mm, 1.80 cm or 1.80 in. ..." */
export function sayGuessedUnit(largestSide: number, unit: LengthUnit): string {
  const sizeMm = largestSide * MM_PER_UNIT[unit];
  const others = (['mm', 'cm', 'in', 'm'] as const)
    .filter((other) => other !== unit)
    .map((other) => `${threeDigits(largestSide)} ${other}`);
  const otherwise = `${others.slice(0, -1).join(', ')} or ${others.at(-1)}`;
  return (
    `The file names no unit. Taken as ${UNIT_NAMES[unit]}: its longest side is ${threeDigits(sizeMm)} mm ` +
    `(${threeDigits(sizeMm / MM_PER_INCH)} in). In another unit it would be ${otherwise}. Set the unit if this is not so.`
  );
}

/** "The file is in metres: its longest side is 1 800 mm (70.9 in). Set the unit if this is not so." */
export function sayFileUnit(largestSide: number, unit: LengthUnit): string {
  const sizeMm = largestSide * MM_PER_UNIT[unit];
  return (
    `The file is in ${UNIT_NAMES[unit]}: its longest side is ${threeDigits(sizeMm)} mm ` +
    `(${threeDigits(sizeMm / MM_PER_INCH)} in). Set the unit if this is not so.`
  );
}

/** Three significant digits, no exponent. */
export function threeDigits(value: number): string {
  if (!(Math.abs(value) > 0) || !Number.isFinite(value)) return String(value);
  const decimals = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))));
  return groupDigits(
    value.toLocaleString('en', {
      minimumFractionDigits: Math.min(decimals, 2),
      maximumFractionDigits: Math.min(decimals, 12),
      useGrouping: false,
    }),
  );
}
