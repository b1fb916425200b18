import { formatBound, formatMass, formatVolume, type UnitSystem } from '../core/units.ts';
import type { SortCell } from './parts/SortRow.ts';

/** Below a hundred grams or millilitres a bound reads better in those than in thousandths of the larger unit. */
const SMALL_BOUND = { mass: 100, volume: 100_000 } as const;
/** An amount that is written in grams or millilitres in either table of units. */
const SMALL_LIKE = { mass: 100, volume: 100_000 } as const;

/** A bound for people: "± 5 g" beside "1.87 kg", "± 0.13 kg" beside "214 kg". Rounded upwards. */
export function sayBound(
  error: number,
  value: number,
  quantity: 'mass' | 'volume',
  system: UnitSystem,
): string {
  const isSmall = system === 'metric' && error > 0 && error < SMALL_BOUND[quantity];
  return isSmall
    ? formatBound(error, value, quantity, system, Math.min(value, SMALL_LIKE[quantity]))
    : formatBound(error, value, quantity, system);
}

/** A mass with its bound under it, for a table's cell. */
export function massCell(massG: number, errorG: number, system: UnitSystem): SortCell {
  return { text: formatMass(massG, system), under: [sayBound(errorG, massG, 'mass', system)], value: massG };
}

/** A volume with its bound under it, for a table's cell. */
export function volumeCell(volumeMm3: number, errorMm3: number, system: UnitSystem): SortCell {
  return {
    text: formatVolume(volumeMm3, system),
    under: [sayBound(errorMm3, volumeMm3, 'volume', system)],
    value: volumeMm3,
  };
}

/** What the last change did: "+0.12 kg", "no change" when it is less than can be read. */
export function sayChange(nowG: number, beforeG: number, system: UnitSystem): string {
  const change = nowG - beforeG;
  const text = formatMass(Math.abs(change), system);
  if (!/[1-9]/.test(text)) return 'no change';
  return `${change > 0 ? '+' : '\u2212'}${text}`;
}

/** A bound as a share of what it bounds, rounded upwards to two figures: "± 0.6 %". */
export function sayShareBound(error: number, value: number): string {
  if (!(value > 0) || !Number.isFinite(error)) return 'unknown';
  const percent = (100 * error) / value;
  if (percent === 0) return '\u00b1 0 %';
  const decimals = Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(percent))));
  const step = 10 ** decimals;
  return `\u00b1 ${(Math.ceil(percent * step * (1 - 1e-12)) / step).toFixed(decimals)} %`;
}
