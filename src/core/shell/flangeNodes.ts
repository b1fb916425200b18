import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import type { FlangeCells } from '../parting/flangeCells.ts';
import type { NodeField } from './marchTets.ts';
import { NodeDistance } from './NodeDistance.ts';

/**
 * The flange of every region as fields to be contoured: from `fromMm` to `toMm` above the rubber, within `thicknessMm` of the
 * parting face on the region's side.
 *
 * @param cells reach a cell's diagonal beyond the thickness, as `far` does beyond `toMm`, so that both ends of every edge
 *   that the surface crosses are known.
 */
export function flangeNodes(
  source: BandSource,
  far: BandGrid,
  farMm: number,
  { grid, rubberMm, besideMm }: FlangeCells,
  thicknessMm: number,
  fromMm: number,
  toMm: number,
): (region: number) => NodeField {
  const distance = new NodeDistance(far, source, farMm);
  const outOf = (cell: number, region: number, mm: number): number => {
    const beside = besideMm(cell, region);
    return Math.max(fromMm - mm, mm - toMm, beside - thicknessMm, -beside);
  };
  return (region) => {
    const values = new Float32Array(grid.brickCount * BRICK_CELLS);
    for (let cell = 0; cell < values.length; cell++) {
      values[cell] = rubberMm[cell] === UNREACHED ? Number.NaN : outOf(cell, region, rubberMm[cell]);
    }
    return {
      grid,
      values,
      hasLayerBelow: source.standsOnBoard,
      beyond: (i, j, k) => {
        if (k !== -1 || !source.standsOnBoard) return UNREACHED;
        const above = grid.cellAt(i, j, 0);
        if (above < 0 || rubberMm[above] === UNREACHED) return UNREACHED;
        return outOf(above, region, distance.at(i, j, -1));
      },
    };
  };
}
