import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { SampleCloud } from './SampleCloud.ts';
import type { SurfaceWalk } from './SurfaceWalk.ts';

/**
 * After the walk for a cell: tries the triangles of its six neighbours' samples too; true when one held a nearer point. In a valley, between two parts of S,
 * the walk may have climbed the wrong one; a neighbour on the other side of the valley knows better.
 *
 * Only a sample beyond the plane through the nearest point found, square to the way there, is looked into: what is nearer
 * lies within the ball about the cell's centre, which is all beyond that plane. Over a convex part of S none is.
 */
export function considerNeighbours(
  grid: BandGrid,
  cloud: SampleCloud,
  walk: SurfaceWalk,
  cell: number,
): boolean {
  const { phi, tri, corners } = grid;
  const { points } = cloud;
  const brick = 3 * ((cell / BRICK_CELLS) | 0);
  const i = corners[brick] + (cell & 7);
  const j = corners[brick + 1] + ((cell >> 3) & 7);
  const k = corners[brick + 2] + ((cell >> 6) & 7);
  const plane = walk.tangentPlane(grid);
  const px = plane[0];
  const py = plane[1];
  const pz = plane[2];
  const beyond = plane[3];
  const own = tri[cell];
  let isNearer = false;
  for (let side = 0; side < 6; side++) {
    let next: number;
    if (side === 0) next = (cell & 7) > 0 ? cell - 1 : grid.cellAt(i - 1, j, k);
    else if (side === 1) next = (cell & 7) < 7 ? cell + 1 : grid.cellAt(i + 1, j, k);
    else if (side === 2) next = (cell & 56) > 0 ? cell - 8 : grid.cellAt(i, j - 1, k);
    else if (side === 3) next = (cell & 56) < 56 ? cell + 8 : grid.cellAt(i, j + 1, k);
    else if (side === 4) next = (cell & 448) > 0 ? cell - 64 : grid.cellAt(i, j, k - 1);
    else next = (cell & 448) < 448 ? cell + 64 : grid.cellAt(i, j, k + 1);
    if (next < 0) continue;
    const id = tri[next];
    if (id === own || id < 0) continue;
    const at = 3 * id;
    if (points[at] * px + points[at + 1] * py + points[at + 2] * pz <= beyond) continue;
    if (phi[next] !== UNREACHED && walk.consider(cloud.tris[id])) isNearer = true;
  }
  return isNearer;
}
