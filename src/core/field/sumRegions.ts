import type { Checkpoint } from '../checkpoint.ts';
import type { CutSurface } from '../parting/types.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import { BallGrid } from './BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellCutter } from './CellCutter.ts';
import { CellDivider } from './CellDivider.ts';
import { CellFoot } from './CellFoot.ts';
import { type CoatTable, sumRunning, TABLE_WIDTH } from './CoatTable.ts';
import { LineIndex } from './LineIndex.ts';
import { LINE_REACH_CELLS, MIXED, TriLabels } from './TriLabels.ts';
import type { BrickTables } from './tabulateBricks.ts';
import { tilesOfBricks } from './tilesOfBricks.ts';

/**
 * The coat table of every region of the surface: bricks that belong to one region are added whole, the cells near a line
 * are divided by the plane that stands on the line along the rubber's normal. Shares of a cell add to one, so that the
 * pieces sum to the whole to rounding. Cells whose nearest point is keep-clear belong to no region.
 *
 * @returns one table a region.
 * Cost: a brick 0.5 microsecond, cells that are not of its commonest region 0.5 microsecond each.
 */
export async function sumRegions(
  grid: BandGrid,
  source: BandSource,
  tables: BrickTables,
  cut: CutSurface,
  keepClear: readonly AreaBall[],
  cp: Checkpoint,
): Promise<CoatTable[]> {
  const { knotMm, knotCount } = tables;
  const size = knotCount * TABLE_WIDTH;
  const sums = Array.from({ length: cut.regionCount }, () => new Float64Array(size));
  const lines = new LineIndex(cut.segments, LINE_REACH_CELLS * grid.cellMm);
  const clear = clearGrid(keepClear, grid.cellMm);
  const labels = new TriLabels(source, cut, lines, clear, grid.cellMm);
  const labelOfBrick = brickLabeller(grid, cut, labels);
  const cutter = new CellCutter(grid, source, knotMm, knotCount);
  const foot = new CellFoot(grid, source);
  const divider = new CellDivider(source, cut, lines, clear, grid.cellMm);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    const label = labelOfBrick(brick);
    if (label === EMPTY) continue;
    // Most cells of most bricks belong to one region: it gets the whole brick, and gives back what is others'.
    const base = label === MIXED ? commonLabel(grid, labels, brick, cut.regionCount) : label;
    if (base >= 0) addBrick(sums[base], tables.rows, brick * size);
    if (label !== MIXED) continue;
    for (let local = 0; local < BRICK_CELLS; local++) {
      const tri = grid.tri[brick * BRICK_CELLS + local];
      if (tri < 0) continue;
      const own = labels.of(tri);
      if ((base >= 0 && own === base) || !cutter.load(brick, local)) continue;
      if (own >= 0) {
        cutter.addTo(sums[own], 0, 1);
        if (base >= 0) cutter.addTo(sums[base], 0, -1);
        continue;
      }
      foot.load(brick, local);
      divider.divide(foot);
      if (divider.region === base && divider.share === 1) continue;
      if (base >= 0) cutter.addTo(sums[base], 0, -1);
      if (divider.share > 0) cutter.addTo(sums[divider.region], 0, divider.share);
      if (divider.otherShare > 0) cutter.addTo(sums[divider.otherRegion], 0, divider.otherShare);
    }
  }
  for (const sum of sums) sumRunning(sum);
  return sums.map((rows) => ({ knotMm, knotCount, rows }));
}

function addBrick(sum: Float64Array, rows: Float64Array, at: number): void {
  for (let n = 0; n < sum.length; n++) sum[n] += rows[at + n];
}

/** The balls of what is kept clear, asked for as far from their borders as a cell of that edge can tell. */
export function clearGrid(keepClear: readonly AreaBall[], cellMm: number): BallGrid {
  return new BallGrid(keepClear, LINE_REACH_CELLS * cellMm);
}

const EMPTY = -2;

/** Tells the one region of all of a brick's cells, MIXED, or EMPTY: by its tiles where these are of one region, else cell by cell. */
function brickLabeller(grid: BandGrid, { parts }: CutSurface, labels: TriLabels): (brick: number) => number {
  if (parts.tiles.count === 0) return (brick) => brickLabel(grid, labels, brick);
  const { tiles, starts } = tilesOfBricks(grid, parts.tiles);
  return (brick) => {
    const first = starts[brick];
    if (first === starts[brick + 1]) return EMPTY;
    const label = labels.ofTile[tiles[first]];
    for (let n = first; n < starts[brick + 1]; n++) {
      if (label === MIXED || labels.ofTile[tiles[n]] !== label) return brickLabel(grid, labels, brick);
    }
    return label;
  };
}

/** The one region of all the brick's cells, MIXED, or EMPTY. */
function brickLabel(grid: BandGrid, labels: TriLabels, brick: number): number {
  const { phi, tri } = grid;
  let label = EMPTY;
  const end = (brick + 1) * BRICK_CELLS;
  for (let cell = brick * BRICK_CELLS; cell < end; cell++) {
    if (phi[cell] === UNREACHED) continue;
    const found = labels.of(tri[cell]);
    if (found === label) continue;
    if (found === MIXED || label !== EMPTY) return MIXED;
    label = found;
  }
  return label;
}

/** The region that the most of a brick's cells belong to; MIXED when none does. */
function commonLabel(grid: BandGrid, labels: TriLabels, brick: number, regionCount: number): number {
  const { phi, tri } = grid;
  const counts = new Int32Array(regionCount);
  const end = (brick + 1) * BRICK_CELLS;
  for (let cell = brick * BRICK_CELLS; cell < end; cell++) {
    if (phi[cell] === UNREACHED) continue;
    const label = labels.of(tri[cell]);
    if (label >= 0) counts[label]++;
  }
  let common = MIXED;
  let most = 0;
  for (let region = 0; region < regionCount; region++) {
    if (counts[region] <= most) continue;
    most = counts[region];
    common = region;
  }
  return common;
}
