import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import type { SideOfRegion } from '../field/sideOfPieces.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import type { NodeField } from './marchTets.ts';
import { NodeDistance } from './NodeDistance.ts';
import { reachIntoClear } from './reachIntoClear.ts';

/**
 * The flange of every region as fields to be contoured: from `fromMm` to `toMm` above the rubber, within `thicknessMm` of the
 * parting wall, on the region's side as the coats have it, off what is kept clear. So the flanges of two pieces meet in one face, which carries on
 * that of their coats, also where the rulings of a bent wall cross each other.
 *
 * @param far distance from the rubber; and `wallGrid`, on the same cells, from the wall. Both reach a cell's diagonal beyond
 *   what is asked for, so that both ends of every edge that the surface crosses are known.
 * @param side of the cells of `far`.
 */
export function flangeNodes(
  source: BandSource,
  far: BandGrid,
  farMm: number,
  wallGrid: BandGrid,
  side: SideOfRegion,
  thicknessMm: number,
  fromMm: number,
  toMm: number,
  keepClear: readonly AreaBall[],
): (region: number) => NodeField {
  const farOf = cellsOfFar(wallGrid, far);
  const distance = new NodeDistance(far, source, farMm);
  const intoClear = keepClear.length > 0 ? reachIntoClear(far, source, keepClear) : null;
  const outOf = (cell: number, region: number, mm: number): number =>
    Math.max(
      fromMm - mm,
      mm - toMm,
      wallGrid.phi[cell] - thicknessMm,
      -side(farOf[cell], region),
      intoClear === null ? -UNREACHED : intoClear[farOf[cell]],
    );
  const isKnown = (cell: number): boolean =>
    wallGrid.phi[cell] !== UNREACHED && farOf[cell] >= 0 && far.phi[farOf[cell]] !== UNREACHED;
  return (region) => {
    const values = new Float32Array(wallGrid.brickCount * BRICK_CELLS);
    for (let cell = 0; cell < values.length; cell++) {
      values[cell] = isKnown(cell) ? outOf(cell, region, far.phi[farOf[cell]]) : Number.NaN;
    }
    return {
      grid: wallGrid,
      values,
      hasLayerBelow: source.standsOnBoard,
      beyond: (i, j, k) => {
        if (k !== -1 || !source.standsOnBoard) return UNREACHED;
        const above = wallGrid.cellAt(i, j, 0);
        return above < 0 || !isKnown(above) ? UNREACHED : outOf(above, region, distance.at(i, j, -1));
      },
    };
  };
}

/** The cell of `far` at the same place, by cell; -1 where it has none. */
function cellsOfFar(grid: BandGrid, far: BandGrid): Int32Array {
  const out = new Int32Array(grid.brickCount * BRICK_CELLS);
  const corner = new Int32Array(3);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      out[brick * BRICK_CELLS + local] = far.cellAt(
        corner[0] + (local & 7),
        corner[1] + ((local >> 3) & 7),
        corner[2] + (local >> 6),
      );
    }
  }
  return out;
}
