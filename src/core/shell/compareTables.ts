import { type CoatTable, readTable, TABLE_WIDTH } from '../field/CoatTable.ts';
import type { Layer } from './boundVolume.ts';

/** Levels beyond the layers that are looked at, in knots of the coarse table (half a coarse cell each). */
const NEIGHBOUR_KNOTS = 4;

/** How two tables of the same region differ, all mm3. */
export interface TableDifference {
  /** Most less least of the difference of the two over all levels in and about the layers. */
  readonly range: number;
  /** For each layer what the fine table holds of it, and that less the coarse one's. */
  readonly layers: readonly { readonly volume: number; readonly off: number }[];
}

/**
 * Difference of a region's tables on two fields. It may vanish by chance at the two distances that bound a layer: errors
 * swing with where a level set falls in its cells, so its whole range over the neighbouring distances tells more.
 */
export function compareTables(fine: CoatTable, coarse: CoatTable, layers: readonly Layer[]): TableDifference {
  const row = new Float64Array(TABLE_WIDTH);
  const volumeAt = (table: CoatTable, distanceMm: number): number => {
    readTable(table, distanceMm, row);
    return row[0];
  };
  const offAt = (distanceMm: number): number => volumeAt(fine, distanceMm) - volumeAt(coarse, distanceMm);
  const endMm = (table: CoatTable): number => table.knotMm * (table.knotCount - 1);
  const around = NEIGHBOUR_KNOTS * coarse.knotMm;
  const fromMm = Math.max(0, layers[0].fromMm - around);
  const toMm = Math.min(endMm(fine), endMm(coarse), layers[layers.length - 1].toMm + around);
  let least = Infinity;
  let most = -Infinity;
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / fine.knotMm));
  for (let n = 0; n <= steps; n++) {
    const off = offAt(fromMm + ((toMm - fromMm) * n) / steps);
    least = Math.min(least, off);
    most = Math.max(most, off);
  }
  return {
    range: most - least,
    layers: layers.map((layer) => ({
      volume: volumeAt(fine, layer.toMm) - volumeAt(fine, layer.fromMm),
      off: offAt(layer.toMm) - offAt(layer.fromMm),
    })),
  };
}
