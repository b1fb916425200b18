import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';

/** The winding number that parts inside from outside (1 inside, 0 outside; half-way keeps the most defects out). */
const INSIDE_ABOVE = 0.5;

/**
 * Gives the seeded cells their sign: inside negative.
 *
 * On a closed surface two neighbouring cells whose distances add to more than their spacing lie on the same side, because
 * the distance is 1-Lipschitz: a path through S would cost each its own distance. Such cells are joined, and one winding
 * number, taken at the cell farthest from S, decides for all of a group. On a surface with holes the sides flow together
 * round the rims, so there every cell is asked by itself.
 */
export async function signBand(
  grid: BandGrid,
  source: BandSource,
  isClosed: boolean,
  cp: Checkpoint,
): Promise<void> {
  const leader = isClosed ? joinSameSides(grid) : undefined;
  await cp.pause(0.2);
  const { phi } = grid;
  const h = grid.cellMm;
  const [ox, oy, oz] = grid.origin;
  const corner = new Int32Array(3);
  const isInside = (brick: number, local: number): boolean => {
    grid.brickCorner(brick, corner);
    return (
      source.winding.windingNumber(
        ox + (corner[0] + (local & 7) + 0.5) * h,
        oy + (corner[1] + ((local >> 3) & 7) + 0.5) * h,
        oz + (corner[2] + (local >> 6) + 0.5) * h,
      ) > INSIDE_ABOVE
    );
  };
  if (leader === undefined) {
    for (let brick = 0; brick < grid.brickCount; brick++) {
      if (cp.due()) await cp.pause(0.2 + (0.8 * brick) / grid.brickCount);
      for (let local = 0; local < BRICK_CELLS; local++) {
        const cell = brick * BRICK_CELLS + local;
        if (phi[cell] !== UNREACHED && isInside(brick, local)) phi[cell] = -phi[cell];
      }
    }
    return;
  }
  const cells = grid.brickCount * BRICK_CELLS;
  const spokesman = new Int32Array(cells).fill(-1);
  for (let cell = 0; cell < cells; cell++) {
    if (phi[cell] === UNREACHED) continue;
    const root = findLeader(leader, cell);
    if (spokesman[root] < 0 || phi[cell] > phi[spokesman[root]]) spokesman[root] = cell;
  }
  const inside = new Uint8Array(cells);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(0.3 + (0.6 * brick) / grid.brickCount);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const root = brick * BRICK_CELLS + local;
      const cell = spokesman[root];
      if (cell >= 0 && isInside(Math.floor(cell / BRICK_CELLS), cell % BRICK_CELLS)) inside[root] = 1;
    }
  }
  for (let cell = 0; cell < cells; cell++) {
    if (phi[cell] !== UNREACHED && inside[findLeader(leader, cell)] === 1) phi[cell] = -phi[cell];
  }
}

/** Groups of seeded cells that must lie on one side, as a forest of leaders. */
function joinSameSides(grid: BandGrid): Int32Array {
  const { phi, cellMm } = grid;
  const leader = new Int32Array(grid.brickCount * BRICK_CELLS);
  for (let cell = 0; cell < leader.length; cell++) leader[cell] = cell;
  // A hair above the spacing, so that float32 rounding of the two distances can never join across S.
  const sameSideMm = cellMm * (1 + 1e-5);
  const corner = new Int32Array(3);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      if (phi[cell] === UNREACHED) continue;
      const i = local & 7;
      const j = (local >> 3) & 7;
      const k = local >> 6;
      for (let axis = 0; axis < 3; axis++) {
        const isLast = (axis === 0 ? i : axis === 1 ? j : k) === BRICK - 1;
        const next = isLast
          ? grid.cellAt(
              corner[0] + i + (axis === 0 ? 1 : 0),
              corner[1] + j + (axis === 1 ? 1 : 0),
              corner[2] + k + (axis === 2 ? 1 : 0),
            )
          : cell + (axis === 0 ? 1 : axis === 1 ? BRICK : BRICK * BRICK);
        if (next < 0 || phi[next] === UNREACHED || phi[cell] + phi[next] <= sameSideMm) continue;
        const a = findLeader(leader, cell);
        const b = findLeader(leader, next);
        if (a !== b) leader[Math.max(a, b)] = Math.min(a, b);
      }
    }
  }
  return leader;
}

function findLeader(leader: Int32Array, cell: number): number {
  let at = cell;
  while (leader[at] !== at) {
    leader[at] = leader[leader[at]];
    at = leader[at];
  }
  return at;
}
