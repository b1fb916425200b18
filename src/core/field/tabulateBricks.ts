import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellCutter } from './CellCutter.ts';
import { TABLE_WIDTH } from './CoatTable.ts';

/** The running volume table of every brick: brick b, knot k at rows[(b * knotCount + k) * TABLE_WIDTH]. */
export interface BrickTables {
  readonly knotMm: number;
  readonly knotCount: number;
  readonly rows: Float64Array;
}

/**
 * Integrates the volume under every knot's level set, brick by brick: each cell is cut by the plane square to its direction
 * through the mean of its distances, sharp ones of coarse meshes in parts (`CellCutter`). Fourth order in the cell where the
 * level sets are smooth; exact for planes. Reads one cell beyond each brick.
 *
 * Cost: about 0.2 microseconds a cell; 32 bytes a brick and knot. Done once a field; pieces and coats only add up rows.
 */
export async function tabulateBricks(
  grid: BandGrid,
  source: BandSource,
  knotMm: number,
  knotCount: number,
  cp: Checkpoint,
): Promise<BrickTables> {
  const rows = new Float64Array(grid.brickCount * knotCount * TABLE_WIDTH);
  const cutter = new CellCutter(grid, source, knotMm, knotCount);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    const at = brick * knotCount * TABLE_WIDTH;
    for (let local = 0; local < BRICK_CELLS; local++) {
      if (cutter.load(brick, local)) cutter.addTo(rows, at, 1);
    }
  }
  return { knotMm, knotCount, rows };
}
