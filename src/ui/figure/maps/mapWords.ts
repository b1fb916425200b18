import { formatLength, type UnitSystem } from '../../../core/units.ts';
import type { MapKind, Picture } from '../../../session/mapPrefs.ts';

const MM_PER_INCH = 25.4;
/** The finest fraction of an inch that a border is written in; finer ones are decimals. */
const FINEST = 64;

/** What each picture is called where it is chosen. */
export const PICTURE_NAMES: Readonly<Record<Picture, string>> = {
  pieces: 'Pieces',
  thickness: 'Thickness',
  undercut: 'Undercut',
  draft: 'Draft',
  distance: 'Scan and body',
};

/** What the numbers of a map are, in front of its legend. */
export function mapTitle(of: MapKind, coatName: string | null, units: UnitSystem): string {
  const unit = unitOf(of, units);
  switch (of) {
    case 'thickness':
      return coatName === null
        ? `Predicted thickness of all coats, ${unit}`
        : `Predicted thickness up to ${coatName}, ${unit}`;
    case 'undercut':
      return `Depth that locks, ${unit}`;
    case 'draft':
      return `Draft for each piece's pull, ${unit}`;
    case 'distance':
      return `Body beyond the scan as it came, ${unit}`;
  }
}

export function unitOf(of: MapKind, units: UnitSystem): string {
  return of === 'draft' ? 'degrees' : units === 'us' ? 'in' : 'mm';
}

/** The bare number of a border, as it stands at its line: 5, -0.2, 10, 3/16, 1 1/4. */
export function sayBorder(of: MapKind, value: number, units: UnitSystem): string {
  const sign = value < 0 ? '\u2212' : of === 'distance' && value > 0 ? '+' : '';
  const size = Math.abs(value);
  if (of === 'draft' || units === 'metric') return `${sign}${Number(size.toFixed(3))}`;
  const parts = Math.round((size / MM_PER_INCH) * FINEST);
  if (Math.abs(parts - (size / MM_PER_INCH) * FINEST) > 1e-6)
    return `${sign}${Number((size / MM_PER_INCH).toFixed(4))}`;
  const whole = Math.floor(parts / FINEST);
  const rest = parts - whole * FINEST;
  if (rest === 0) return `${sign}${whole}`;
  let [top, bottom] = [rest, FINEST];
  while (top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${sign}${whole > 0 ? `${whole} ` : ''}${top}/${bottom}`;
}

/** What the map says at a spot, with its unit: "7.4 mm", "locks 3.1 mm deep", "draft 4\u00b0". */
export function sayMapValue(of: MapKind, value: number, units: UnitSystem): string {
  if (Number.isNaN(value)) return 'nothing is told here';
  switch (of) {
    case 'thickness':
      return value === Infinity ? 'the hollow fills' : formatLength(value, units);
    case 'undercut':
      return value < FREE_MM ? 'free' : `locks ${formatLength(value, units)} deep`;
    case 'draft':
      return `draft ${value < 0 ? '\u2212' : ''}${Math.abs(value).toFixed(1)}\u00b0${value < 0 ? ', faces away' : ''}`;
    case 'distance': {
      if (Math.abs(value) < SAME_MM) return 'as the scan';
      return `${formatLength(Math.abs(value), units)} ${value > 0 ? 'beyond' : 'inside'} the scan`;
    }
  }
}

/** Depths that the undercut's own map cannot tell from nought, mm. */
const FREE_MM = 0.05;
/** Below this the body is the scan, mm: a hundredth is finer than any scan. */
const SAME_MM = 0.01;
