import type { CoatTable } from '../field/CoatTable.ts';
import { compareTables } from './compareTables.ts';

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

/** Rounding of distances and of the reading between knots, share of the volume. */
const FLOOR_SHARE = 2e-5;

/**
 * Bound on |fine - true| of each layer's volume, mm3, where cells are cut by planes and nothing more: the flange.
 * Own; tried in test/published against flanges with exact answers.
 *
 * @param fine, coarse the same region's table on two fields, the second of larger cells.
 * @param coarser how many times as large.
 * @param bendMm how much the region bends, mm: integral of mean curvature.
 */
export function boundLayers(
  fine: CoatTable,
  coarse: CoatTable,
  coarser: number,
  layers: readonly Layer[],
  bendMm: number,
  cellMm: number,
): number[] {
  const difference = compareTables(fine, coarse, layers);
  const share = CHANCE_ROOM / (coarser ** 2 - 1);
  const shared = share * difference.range + CURVATURE_SHARE * cellMm ** 2 * bendMm;
  return difference.layers.map(
    ({ volume, off }) => share * Math.abs(off) + shared + FLOOR_SHARE * Math.abs(volume),
  );
}
