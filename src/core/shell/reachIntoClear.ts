import { BallGrid } from '../field/BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { closestOnTriangle } from '../field/closestOnTriangle.ts';
import type { AreaBall } from '../plan/ballsOf.ts';

/** A border is contoured from the cells about it; farther off only the side counts. */
const CLEAR_REACH_CELLS = 4;

/** By cell: how far its nearest point lies inside what is kept clear, mm; negative outside. */
export function reachIntoClear(
  grid: BandGrid,
  source: BandSource,
  keepClear: readonly AreaBall[],
): Float32Array {
  const { positions, indices } = source.mesh;
  const clear = new BallGrid(keepClear, CLEAR_REACH_CELLS * grid.cellMm);
  const out = new Float32Array(grid.brickCount * BRICK_CELLS).fill(-UNREACHED);
  const corner = new Int32Array(3);
  const foot = new Float64Array(4);
  const h = grid.cellMm;
  for (let brick = 0; brick < grid.brickCount; brick++) {
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      if (grid.phi[cell] === UNREACHED) continue;
      const x = grid.origin[0] + (corner[0] + (local & 7) + 0.5) * h;
      const y = grid.origin[1] + (corner[1] + ((local >> 3) & 7) + 0.5) * h;
      const z = grid.origin[2] + (corner[2] + (local >> 6) + 0.5) * h;
      closestOnTriangle(positions, indices, grid.tri[cell], x, y, z, foot);
      out[cell] = Math.max(-UNREACHED, clear.reachInto(foot[0], foot[1], foot[2]));
    }
  }
  return out;
}
