import { type CoatTable, readTable, TABLE_WIDTH } from './CoatTable.ts';

/** Area of the level set at a distance, mm2: the growth of the volume there. */
export function growthAt(table: CoatTable, distanceMm: number): number {
  const below = new Float64Array(TABLE_WIDTH);
  const above = new Float64Array(TABLE_WIDTH);
  // Below zero the table holds nothing: over thin rubber the span is shorter on that side.
  const fromMm = Math.max(0, distanceMm - table.knotMm);
  const toMm = distanceMm + (distanceMm - fromMm);
  readTable(table, fromMm, below);
  readTable(table, toMm, above);
  return (above[0] - below[0]) / (toMm - fromMm);
}
