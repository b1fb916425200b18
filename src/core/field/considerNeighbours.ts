import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { SurfaceWalk } from './SurfaceWalk.ts';

/**
 * After the walk for a cell: tries the triangles of its six neighbours too. In a valley, between two parts of S, the walk
 * may have climbed the wrong one; a neighbour on the other side of the valley knows better.
 */
export function considerNeighbours(
  grid: BandGrid,
  walk: SurfaceWalk,
  cell: number,
  startOf: (cell: number) => number,
): void {
  const { phi, corners } = grid;
  const brick = 3 * ((cell / BRICK_CELLS) | 0);
  const i = corners[brick] + (cell & 7);
  const j = corners[brick + 1] + ((cell >> 3) & 7);
  const k = corners[brick + 2] + ((cell >> 6) & 7);
  let next = (cell & 7) > 0 ? cell - 1 : grid.cellAt(i - 1, j, k);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
  next = (cell & 7) < 7 ? cell + 1 : grid.cellAt(i + 1, j, k);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
  next = (cell & 56) > 0 ? cell - 8 : grid.cellAt(i, j - 1, k);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
  next = (cell & 56) < 56 ? cell + 8 : grid.cellAt(i, j + 1, k);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
  next = (cell & 448) > 0 ? cell - 64 : grid.cellAt(i, j, k - 1);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
  next = (cell & 448) < 448 ? cell + 64 : grid.cellAt(i, j, k + 1);
  if (next >= 0 && phi[next] !== UNREACHED) walk.consider(startOf(next));
}
