import type { CoatTable } from '../field/CoatTable.ts';
import type { Layer } from './boundVolume.ts';
import { compareTables } from './compareTables.ts';

/**
 * Shares of what the error is taken from, found on 1,200 convex hulls, half hulls on the board and capsules in one and two
 * pieces by linear programming (the least sum of bounds that covers every error), with a quarter and more added. Tried on
 * others in test/published/boundCampaign.test.ts and on dirty scans in test/core/mesh/dirtyScans.test.ts.
 */
const ROOM = {
  /** Of the fields' difference over all distances, and of the layer's own, for cells twice as large. */
  range: 0.33,
  difference: 0.4,
  /** Of what a plane in a cell leaves out, h^2 / 12 times the integral of mean curvature; most of it is put in by `CellCutter`. */
  curvature: 0.04,
  /** Of a cell's face for each length of line: the planes between pieces. */
  line: 0.015,
  /** Of h (to^2 - from^2) where there are lines: the fans over edges that a line crosses. */
  fan: 0.13,
  /** Cells: corners, and what little there is in small bodies for chance to even out. */
  cells: 1.6,
  /** Rounding of distances and of the reading between knots, share of the volume. */
  floor: 2e-5,
};

/**
 * A layer thinner than its cells errs more than cells of half the edge would tell: the bound grows with the square of cells
 * to thickness, times this. Found on a scan of 420 faces in cells of 2 mm under a coat of 1.5.
 */
const THIN_ROOM = 1.2;

/** What the fields' cells have to do with in a region. */
export interface RegionGround {
  /** Integral of |mean curvature| (`bendsOfRegions`), mm. */
  readonly bendMm: number;
  /** Length of the lines that bound it, mm. */
  readonly lineMm: number;
}

/**
 * Bound on |fine - true| of each layer's volume, mm3.
 *
 * The errors are chance's: how level sets, edges and lines fall in the cells. The largest of many is then several times
 * the middle one even where their spread is known (6.6 times for 50,000 of a normal distribution), so that a bound which
 * covers all is wide for most. Own.
 *
 * @param fine, coarse the same region's table on two fields, the second of larger cells.
 * @param coarser how many times as large.
 * @param cellMm edge of the fine field's cells.
 */
export function boundCoats(
  fine: CoatTable,
  coarse: CoatTable,
  coarser: number,
  layers: readonly Layer[],
  { bendMm, lineMm }: RegionGround,
  cellMm: number,
): number[] {
  const difference = compareTables(fine, coarse, layers);
  // Second-order errors of cells k times as large are k^2 times as large: the difference is k^2 - 1 times the fine one's.
  const perTwice = 3 / (coarser ** 2 - 1);
  const shared =
    ROOM.range * perTwice * difference.range +
    (ROOM.curvature / 12) * cellMm ** 2 * bendMm +
    ROOM.line * cellMm ** 2 * lineMm +
    ROOM.cells * cellMm ** 3;
  return difference.layers.map(({ volume, off }, n) => {
    const { fromMm, toMm } = layers[n];
    const thin = Math.max(1, THIN_ROOM * (cellMm / (toMm - fromMm)) ** 2);
    const fans = lineMm > 0 ? ROOM.fan * cellMm * (toMm ** 2 - fromMm ** 2) : 0;
    return (
      thin * (shared + ROOM.difference * perTwice * Math.abs(off) + fans) + ROOM.floor * Math.abs(volume)
    );
  });
}
