import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { SurfaceWalk } from './SurfaceWalk.ts';

/** A distance that is less by a smaller share than this is the same, measured from another triangle. */
const SAME = 1 - 1e-6;

/**
 * Hands on what `considerNeighbours` found: the neighbours of a cell whose triangle was changed walk from the new one, and
 * theirs in turn, until no distance becomes less. Valleys are so filled from the one cell that saw their other side.
 *
 * @param changed cells. @param startOf triangle of a cell, in the surface's order. @param keep takes the walk's last answer.
 * `grid.phi` holds distances, mm, of either sign. O(changed cells).
 */
export function mendValleys(
  grid: BandGrid,
  walk: SurfaceWalk,
  changed: number[],
  startOf: (cell: number) => number,
  keep: (cell: number) => void,
): void {
  const { corners, origin, cellMm } = grid;
  while (changed.length > 0) {
    const cell = changed.pop() as number;
    // Changed and then let go, lying beyond the band.
    if (grid.phi[cell] === UNREACHED) continue;
    const start = startOf(cell);
    const brick = 3 * ((cell / BRICK_CELLS) | 0);
    for (let side = 0; side < 6; side++) {
      const step = side & 1 ? 1 : -1;
      const i = corners[brick] + (cell & 7) + (side >> 1 === 0 ? step : 0);
      const j = corners[brick + 1] + ((cell >> 3) & 7) + (side >> 1 === 1 ? step : 0);
      const k = corners[brick + 2] + ((cell >> 6) & 7) + (side >> 1 === 2 ? step : 0);
      const next = grid.cellAt(i, j, k);
      if (next < 0 || grid.phi[next] === UNREACHED || startOf(next) === start) continue;
      walk.run(
        start,
        origin[0] + (i + 0.5) * cellMm,
        origin[1] + (j + 0.5) * cellMm,
        origin[2] + (k + 0.5) * cellMm,
      );
      if (walk.distance() >= SAME * Math.abs(grid.phi[next])) continue;
      keep(next);
      changed.push(next);
    }
  }
}
