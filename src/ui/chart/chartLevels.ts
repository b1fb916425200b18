import type { UnitSystem } from '../../core/units.ts';

/** What a chart of pulls can tell of each direction. */
export type ChartedQuantity = 'depth' | 'filler' | 'area';

/** Bands a chart is divided in at most: more greys side by side cannot be told apart. Own choice. */
const MOST_LEVELS = 6;

/** With fewer borders than this a chart says too little. Own choice. */
const LEAST_LEVELS = 3;

/** One of each in mm, mm3, mm2: the unit the round figures are counted in. */
const METRIC = { depth: 1, filler: 1e3, area: 1e2 } as const;
const INCHES = { depth: 25.4, filler: 25.4 ** 3, area: 25.4 ** 2 } as const;

/** Inches are divided by halves below one. */
const INCH_ROUNDS = [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 8, 16, 32];

/**
 * Borders between the bands of a chart, rising, in mm, mm3 or mm2: `floor` (what counts as free) if it lies below the
 * largest value, then round figures of the system up to that value. Empty when every value is free.
 */
export function chartLevels(
  values: Float32Array,
  quantity: ChartedQuantity,
  system: UnitSystem,
  floor: number,
): number[] {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  if (!(most > floor)) return [];
  const from = Math.max(floor, least);
  const isWithin = (level: number): boolean => level > from * 1.2 && level < most;
  const spread = roundFigures(quantity, system, most).filter(isWithin);
  // Where all directions are about as bad, even steps tell them apart and 1, 2, 5 do not.
  const rounds = spread.length < LEAST_LEVELS ? evenFigures(quantity, system, from, most) : spread;
  // The finest steps go first: what is bad by far is told from what is bad, what is nearly free has the floor's border.
  const room = MOST_LEVELS - 1;
  const every = Math.ceil(rounds.length / room);
  const kept = rounds.filter((_, i) => (rounds.length - 1 - i) % every === 0);
  return floor >= least ? [floor, ...kept] : kept;
}

/** Multiples of a round step, about as many as there is room for. */
function evenFigures(quantity: ChartedQuantity, system: UnitSystem, from: number, most: number): number[] {
  const wanted = (most - from) / MOST_LEVELS;
  const unit = (system === 'us' ? INCHES : METRIC)[quantity];
  const decade = 10 ** Math.floor(Math.log10(wanted / unit));
  const steps = system === 'us' && quantity === 'depth' ? INCH_ROUNDS : [1, 2, 5, 10].map((n) => n * decade);
  const step = (steps.find((n) => n * unit >= wanted) ?? steps[steps.length - 1]) * unit;
  const out: number[] = [];
  for (let n = Math.floor(from / step) + 1; n * step < most; n++) out.push(n * step);
  return out;
}

function roundFigures(quantity: ChartedQuantity, system: UnitSystem, most: number): number[] {
  if (system === 'us' && quantity === 'depth') return INCH_ROUNDS.map((inches) => inches * INCHES.depth);
  const unit = (system === 'us' ? INCHES : METRIC)[quantity];
  const out: number[] = [];
  const last = Math.ceil(Math.log10(most / unit));
  for (let decade = last - 4; decade <= last; decade++) {
    for (const step of [1, 2, 5]) out.push(step * 10 ** decade * unit);
  }
  return out;
}
