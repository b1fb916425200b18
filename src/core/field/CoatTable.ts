/**
 * Cumulative volume and first moments over distance: the answer to every coat, once the field has been integrated.
 *
 * Row k (of knotCount) holds, for the region { x : phi(x) <= k * knotMm } up to a constant that is the same in all rows:
 * volume mm3, and its first moments about the board frame's origin x y z, mm4. Only differences of rows mean anything.
 */
export interface CoatTable {
  readonly knotMm: number;
  readonly knotCount: number;
  /** knotCount x 4 */
  readonly rows: Float64Array;
}

export const TABLE_WIDTH = 4;

/** Volume mm3 and moments mm4 as the table has them at distance d: cubic (Catmull-Rom) between knots. d is clamped to the table. */
export function readTable(table: CoatTable, distanceMm: number, out: Float64Array): void {
  const { rows, knotCount } = table;
  const at = Math.min(knotCount - 1, Math.max(0, distanceMm / table.knotMm));
  const k = Math.min(knotCount - 2, Math.floor(at));
  const u = at - k;
  for (let c = 0; c < TABLE_WIDTH; c++) {
    const p1 = rows[TABLE_WIDTH * k + c];
    const p2 = rows[TABLE_WIDTH * (k + 1) + c];
    // At the ends the missing neighbour is the quadratic continuation, which keeps parabolas exact.
    const p0 =
      k > 0
        ? rows[TABLE_WIDTH * (k - 1) + c]
        : 3 * p1 - 3 * p2 + rows[TABLE_WIDTH * Math.min(knotCount - 1, k + 2) + c];
    const p3 =
      k + 2 < knotCount
        ? rows[TABLE_WIDTH * (k + 2) + c]
        : 3 * p2 - 3 * p1 + rows[TABLE_WIDTH * Math.max(0, k - 1) + c];
    out[c] = p1 + 0.5 * u * (p2 - p0 + u * (2 * p0 - 5 * p1 + 4 * p2 - p3 + u * (3 * (p1 - p2) + p3 - p0)));
  }
}

/** Volume mm3 and moments mm4 between two distances. */
export function between(table: CoatTable, fromMm: number, toMm: number): Float64Array {
  const from = new Float64Array(TABLE_WIDTH);
  const to = new Float64Array(TABLE_WIDTH);
  readTable(table, fromMm, from);
  readTable(table, toMm, to);
  for (let k = 0; k < TABLE_WIDTH; k++) to[k] -= from[k];
  return to;
}

/** Turns rows of a table from running form (each row what it adds) into cumulative form, in place. */
export function sumRunning(running: Float64Array): void {
  for (let i = TABLE_WIDTH; i < running.length; i++) running[i] += running[i - TABLE_WIDTH];
}
