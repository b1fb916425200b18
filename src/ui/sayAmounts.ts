import { html } from 'lit';
import { formatBound, formatMass, formatVolume, type UnitSystem } from '../core/units.ts';

/** A mass with its bound under it, for a table's cell. */
export function massCell(massG: number, errorG: number, system: UnitSystem) {
  return html`${formatMass(massG, system)}<span class="bound">${formatBound(errorG, massG, 'mass', system)}</span>`;
}

/** A volume with its bound under it, for a table's cell. */
export function volumeCell(volumeMm3: number, errorMm3: number, system: UnitSystem) {
  return html`${formatVolume(volumeMm3, system)}<span class="bound"
      >${formatBound(errorMm3, volumeMm3, 'volume', system)}</span
    >`;
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
