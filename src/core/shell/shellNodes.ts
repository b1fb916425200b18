import type { Field } from '../FieldLadder.ts';
import { BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import type { SideOfRegion } from '../field/sideOfPieces.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import type { NodeField } from './marchTets.ts';
import { NodeDistance } from './NodeDistance.ts';
import { reachIntoClear } from './reachIntoClear.ts';

/** Stands for zero on the inner side of it; large enough to be kept in single precision. */
const HAIR_MM = 1e-20;

/**
 * The coats of every region as fields to be contoured: innerMm < distance <= outerMm, on the region's side of its lines, off
 * what is kept clear. Makes them one by one, since each takes 4 bytes a cell.
 *
 * @param side from `sideOfPieces` without any keep-clear area: their borders are told here, to a part of a cell.
 */
export function shellNodes(
  field: Pick<Field, 'grid' | 'bandMm'>,
  source: BandSource,
  innerMm: number,
  outerMm: number,
  side: SideOfRegion,
  keepClear: readonly AreaBall[],
): (region: number) => NodeField {
  const { grid, bandMm } = field;
  const distance = new NodeDistance(grid, source, bandMm);
  const intoClear = keepClear.length > 0 ? reachIntoClear(field.grid, source, keepClear) : null;
  const outOfCoats = (mm: number): number => Math.max(mm - outerMm, innerMm - mm);
  const outOfPiece = (cell: number, region: number): number =>
    Math.max(-side(cell, region), intoClear === null ? -UNREACHED : intoClear[cell]);
  return (region) => {
    const values = new Float32Array(grid.brickCount * BRICK_CELLS);
    for (let cell = 0; cell < values.length; cell++) {
      const mm = grid.phi[cell];
      values[cell] = mm === UNREACHED ? Number.NaN : Math.max(outOfCoats(mm), outOfPiece(cell, region));
      // On the very border the piece that has the cell sees +0, its neighbour -0: so it goes to one of the two.
      if (values[cell] === 0 && Object.is(side(cell, region), 0)) values[cell] = -HAIR_MM;
    }
    return {
      grid,
      values,
      hasLayerBelow: source.standsOnBoard,
      beyond: (i, j, k) => {
        if (k < -1 || (k < 0 && !source.standsOnBoard)) return UNREACHED;
        const coats = outOfCoats(distance.at(i, j, k));
        if (k >= 0) return Math.max(0, coats);
        const above = grid.cellAt(i, j, 0);
        if (above < 0 || grid.tri[above] < 0) return Math.max(0, coats);
        return Math.max(coats, outOfPiece(above, region));
      },
    };
  };
}
