import { type CoatTable, readTable, TABLE_WIDTH } from '../field/CoatTable.ts';

/** Two distances between which a volume lies, mm. */
export interface Layer {
  readonly fromMm: number;
  readonly toMm: number;
}

/**
 * Second-order errors of cells k times as large are k^2 times as large, so that the difference of the two fields divided
 * by k^2 - 1 is the fine one's error. This is the room for chance, as a factor on that.
 */
const CHANCE_ROOM = 1.5;

/**
 * A cell is cut by a plane through the exact distance and direction at its centre. What that leaves out is a half of
 * x' Hess(phi) x, on the average over the cut (h^2 / 24) (k1 + k2), so for a level set h^2 / 12 times its integral of mean
 * curvature. The two level sets of a coat err to the same side, so that their difference errs no more than the one that errs more.
 */
const CURVATURE_SHARE = 1 / 12;

/** Levels beyond a coat that are looked at, in knots of the coarse table (half a coarse cell each). */
const NEIGHBOUR_KNOTS = 4;

/** Rounding of distances and of the reading between knots, share of the volume. */
const FLOOR_SHARE = 2e-5;

/**
 * Bound on |fine - true| of each layer's volume, mm3.
 *
 * The fields' difference may vanish by chance at the two distances that bound a layer, so its whole range over the
 * neighbouring distances counts as much as the difference itself: errors swing with where a level set falls in its cells.
 *
 * Own; tried in test/published against bodies with exact answers (10,000 random ones in the long campaign).
 *
 * @param fine, coarse the same region's table on two fields, the second of larger cells.
 * @param coarser how many times as large.
 * @param bendMm how much the region bends (`bendsOfRegions`), mm.
 */
export function boundLayers(
  fine: CoatTable,
  coarse: CoatTable,
  coarser: number,
  layers: readonly Layer[],
  bendMm: number,
  cellMm: number,
): number[] {
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
  const share = CHANCE_ROOM / (coarser ** 2 - 1);
  const shared = share * (most - least) + CURVATURE_SHARE * cellMm ** 2 * bendMm;
  return layers.map(
    (layer) =>
      share * Math.abs(offAt(layer.toMm) - offAt(layer.fromMm)) +
      shared +
      FLOOR_SHARE * Math.abs(volumeAt(fine, layer.toMm) - volumeAt(fine, layer.fromMm)),
  );
}
