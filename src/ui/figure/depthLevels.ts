import type { UnitSystem } from '../../core/units.ts';

/** Depths at which lines may run: the round ones of each system. */
const METRIC_MM = [0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
const US_INCHES = [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 8, 16];
const MM_PER_INCH = 25.4;
/** More lines than these cannot be told apart by eye; the deepest matter most. */
const MOST = 5;

/** Depths at which lines run over what locks, mm, rising: the greatest round ones below `deepestMm`. */
export function depthLevels(deepestMm: number, units: UnitSystem): number[] {
  const rounds = units === 'us' ? US_INCHES.map((inches) => inches * MM_PER_INCH) : METRIC_MM;
  return rounds.filter((mm) => mm < deepestMm).slice(-MOST);
}

/** The bare number of a level, as it stands at its line: 5, 0.5; in inches 1/4, 2. */
export function sayLevel(mm: number, units: UnitSystem): string {
  if (units === 'metric') return String(mm);
  const inches = mm / MM_PER_INCH;
  return inches < 1 ? `1/${Math.round(1 / inches)}` : String(Math.round(inches));
}

/** All levels with their unit, for the legend: "1, 2, 5 mm". */
export function sayLevels(levelsMm: readonly number[], units: UnitSystem): string {
  return `${levelsMm.map((mm) => sayLevel(mm, units)).join(', ')} ${units === 'us' ? 'in' : 'mm'}`;
}
