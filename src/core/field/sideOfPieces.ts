import type { Checkpoint } from '../checkpoint.ts';
import { type CutSurface, NO_REGION } from '../parting/types.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellDivider } from './CellDivider.ts';
import { CellFoot } from './CellFoot.ts';
import { LineIndex } from './LineIndex.ts';
import { clearGrid } from './sumRegions.ts';
import { LINE_REACH_CELLS, MIXED, TriLabels } from './TriLabels.ts';

/** For every cell how far its centre lies inside (positive) or outside a region's part of the shell, mm. */
export type SideOfRegion = (cell: number, region: number) => number;

/** Which region each cell belongs to and how near the parting face is, for drawing the pieces. O(cells). */
export async function sideOfPieces(
  grid: BandGrid,
  source: BandSource,
  cut: CutSurface,
  keepClear: readonly AreaBall[],
  cp: Checkpoint,
): Promise<SideOfRegion> {
  const cells = grid.brickCount * BRICK_CELLS;
  const far = LINE_REACH_CELLS * grid.cellMm;
  const own = new Int16Array(cells).fill(NO_REGION);
  const other = new Int16Array(cells).fill(NO_REGION);
  const distance = new Float32Array(cells).fill(far);
  const lines = new LineIndex(cut.segments, far);
  const clear = clearGrid(keepClear, grid.cellMm);
  const labels = new TriLabels(source, cut, lines, clear, grid.cellMm);
  const foot = new CellFoot(grid, source);
  const divider = new CellDivider(source, cut, lines, clear, grid.cellMm);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      const tri = grid.tri[cell];
      if (tri < 0) continue;
      const label = labels.of(tri);
      if (label !== MIXED) {
        own[cell] = label;
        continue;
      }
      foot.load(brick, local);
      divider.locate(foot);
      if (divider.openShare(foot) < 0.5) continue;
      own[cell] = divider.region;
      other[cell] = divider.otherRegion;
      distance[cell] = Math.min(far, divider.distanceMm);
    }
  }
  return (cell, region) =>
    own[cell] === region ? distance[cell] : other[cell] === region ? -distance[cell] : -far;
}
