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

export function areaCell(valueMm2: number, system: UnitSystem): ReportCell {
  return textCell(formatArea(valueMm2, system));
}

export function volumeCell(valueMm3: number, boundMm3: number, system: UnitSystem): ReportCell {
  return { text: formatVolume(valueMm3, system), bound: formatBound(boundMm3, valueMm3, 'volume', system) };
}

export function massCell(valueG: number, boundG: number, system: UnitSystem): ReportCell {
  return { text: formatMass(valueG, system), bound: formatBound(boundG, valueG, 'mass', system) };
}
