import type { UnitSystem } from '../../../core/units.ts';
import type { MapPicture } from '../../../jobs/protocol.ts';
import type { MapKind, MapRange } from '../../../session/mapPrefs.ts';
import { depthLevels } from '../depthLevels.ts';

/** Where a map's bands begin and end. */
export interface MapBands {
  readonly least: number;
  readonly most: number;
  /** Between the bands, rising, all within. */
  readonly borders: readonly number[];
}

const MM_PER_INCH = 25.4;
/** More bands cannot be told apart by eye. */
const MOST_BORDERS = 7;
const METRIC_STEPS_MM = [
  0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500,
];
const US_STEPS_MM = [1 / 256, 1 / 128, 1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 8, 16, 32].map(
  (inches) => inches * MM_PER_INCH,
);
const STEPS_DEG = [0.5, 1, 2, 5, 10, 15, 30];
/** Borders of draft left to itself, degrees: finest about nought, where it is decided whether a piece comes off. Own choice. */
const DRAFT_DEG = [-30, -10, -3, 0, 3, 10, 30];
/** Hollows thicker than this share of what is laid are thick enough: finer bands below serve better. Own choice. */
const FULL_SHARE = 1.5;
/** A scan and a body nearer than this everywhere are the same, mm. */
const SAME_MM = 1e-3;

/**
 * The bands of a map. A typed end of the range holds; the others follow the values: thickness between the outer 2 % of the
 * area at either end, but not far beyond what is laid (`laidMm`), undercut from nought to the deepest, distance as far to one side as to the other with a band about
 * nought, draft by fixed steps about nought. Null when nothing is told.
 */
export function mapBands(
  of: MapKind,
  spread: MapPicture['spread'],
  typed: MapRange,
  units: UnitSystem,
  laidMm = Infinity,
): MapBands | null {
  if (spread === null) return null;
  const own = ownRange(of, spread, laidMm);
  const least = typed.least ?? own.least;
  const most = typed.most ?? own.most;
  const isTyped = typed.least !== null || typed.most !== null;
  // Ends that were typed the wrong way round say nothing.
  if (!(least < most))
    return isTyped && own.least < own.most
      ? mapBands(of, spread, NONE, units, laidMm)
      : flat(own.least, own.most);
  return { least, most, borders: bordersOf(of, least, most, isTyped, units) };
}

const NONE: MapRange = { least: null, most: null };

const flat = (least: number, most: number): MapBands => ({ least, most: Math.max(least, most), borders: [] });

function ownRange(
  of: MapKind,
  { least, most, low, high }: NonNullable<MapPicture['spread']>,
  laidMm: number,
) {
  switch (of) {
    case 'thickness':
      return { least: low, most: Math.min(high, Math.max(low, FULL_SHARE * laidMm)) };
    case 'undercut':
      return { least: 0, most };
    case 'draft':
      return { least, most };
    case 'distance': {
      const far = Math.max(Math.abs(least), Math.abs(most));
      return far < SAME_MM ? { least: 0, most: 0 } : { least: -far, most: far };
    }
  }
}

function bordersOf(of: MapKind, least: number, most: number, isTyped: boolean, units: UnitSystem): number[] {
  if (of === 'draft' && !isTyped) return DRAFT_DEG.filter((deg) => deg > least && deg < most);
  if (of === 'undercut' && !isTyped) return depthLevels(most, units);
  const steps = of === 'draft' ? STEPS_DEG : units === 'us' ? US_STEPS_MM : METRIC_STEPS_MM;
  for (const step of steps) {
    const borders = roundsBetween(least, most, step);
    // The line at nought would follow every rounding of a body that is the scan nearly everywhere.
    if (of === 'distance') borders.splice(0, borders.length, ...borders.filter((mm) => mm !== 0));
    if (borders.length <= MOST_BORDERS) return borders;
  }
  return [];
}

/** Whole multiples of the step inside the range. */
export function roundsBetween(least: number, most: number, step: number): number[] {
  const from = Math.floor(least / step) + 1;
  const out: number[] = [];
  // Far more than anyone asks for is enough to know that the step is too small.
  for (let k = from; k * step < most && out.length < 100; k++) out.push(k * step);
  return out;
}
