import {
  formatArea,
  formatBound,
  formatLength,
  formatMass,
  formatVolume,
  type UnitSystem,
} from '../core/units.ts';
import type { ReportCell } from './Report.ts';

/** A cell without a bound. */
export function textCell(text: string): ReportCell {
  return { text, bound: '' };
}

export function lengthCell(valueMm: number, system: UnitSystem): ReportCell {
  return textCell(formatLength(valueMm, system));
}

/** `like` is what the column's unit is chosen for: its smallest amount, so that none of its figures loses digits. */
export function areaCell(valueMm2: number, like: number, system: UnitSystem): ReportCell {
  return textCell(formatArea(valueMm2, system, like));
}

export function volumeCell(valueMm3: number, boundMm3: number, like: number, system: UnitSystem): ReportCell {
  return {
    text: formatVolume(valueMm3, system, like),
    bound: formatBound(boundMm3, valueMm3, 'volume', system, like),
  };
}

export function massCell(valueG: number, boundG: number, like: number, system: UnitSystem): ReportCell {
  return {
    text: formatMass(valueG, system, like),
    bound: formatBound(boundG, valueG, 'mass', system, like),
  };
}

/** The smallest of a column's amounts that are not nothing; 1 when all are nothing. */
export function smallestOf(values: readonly number[]): number {
  const positive = values.filter((value) => value > 0);
  return positive.length === 0 ? 1 : Math.min(...positive);
}
