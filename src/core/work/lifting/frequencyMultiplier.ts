/** Height of the hands from which the tables' second column holds, cm: 30 in in the US tables. */
export const HIGH_HANDS_CM = 75;

/** Lifts a minute, multiplier with the hands below 75 cm, multiplier from there on; for work of up to an hour. */
type FrequencyRow = readonly [perMin: number, low: number, high: number];

/**
 * NIOSH 94-110, Table 5, column for up to one hour. The first row (0.2 a minute and fewer: 1.00) as quoted from the manual,
 * the others from memory.
 */
const FREQUENCY_TABLE: readonly FrequencyRow[] = [
  [0.2, 1, 1],
  [0.5, 0.97, 0.97],
  [1, 0.94, 0.94],
  [2, 0.91, 0.91],
  [3, 0.88, 0.88],
  [4, 0.84, 0.84],
  [5, 0.8, 0.8],
  [6, 0.75, 0.75],
  [7, 0.7, 0.7],
  [8, 0.6, 0.6],
  [9, 0.52, 0.52],
  [10, 0.45, 0.45],
  [11, 0.41, 0.41],
  [12, 0.37, 0.37],
  [13, 0, 0.34],
  [14, 0, 0.31],
  [15, 0, 0.28],
];

/**
 * FM for lifts in a spell of up to an hour, which a shell's lifts are: linear between the table's rows (own), 0 beyond 15 a minute.
 * A person who lifts for longer has a lower one.
 */
export function frequencyMultiplier(liftsPerMin: number, verticalCm: number): number {
  const column = verticalCm < HIGH_HANDS_CM ? 1 : 2;
  const last = FREQUENCY_TABLE[FREQUENCY_TABLE.length - 1];
  if (liftsPerMin > last[0]) return 0;
  const above = FREQUENCY_TABLE.findIndex((row) => row[0] >= liftsPerMin);
  if (above === 0) return FREQUENCY_TABLE[0][column];
  const from = FREQUENCY_TABLE[above - 1];
  const to = FREQUENCY_TABLE[above];
  const share = (liftsPerMin - from[0]) / (to[0] - from[0]);
  return from[column] + share * (to[column] - from[column]);
}
