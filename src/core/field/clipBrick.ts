import { type BandGrid, BRICK, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { CellRange } from './CellRange.ts';

/** Lets the cells of a brick go that lie outside the range; false when those are all. */
export function clipBrick(grid: BandGrid, brick: number, { axis, from, to }: CellRange): boolean {
  const first = grid.corners[3 * brick + axis];
  if (first >= from && first + BRICK <= to) return true;
  const shift = 3 * axis;
  for (let local = 0; local < BRICK_CELLS; local++) {
    const at = first + ((local >> shift) & 7);
    if (at < from || at >= to) grid.phi[brick * BRICK_CELLS + local] = UNREACHED;
  }
  return first + BRICK > from && first < to;
}
