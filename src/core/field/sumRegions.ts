import type { Checkpoint } from '../checkpoint.ts';
import type { CutSurface } from '../parting/types.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import { BallGrid } from './BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { BrickDivider, type BrickShares } from './BrickDivider.ts';
import { type CoatTable, sumRunning, TABLE_WIDTH } from './CoatTable.ts';
import { type CutOutline, changedTiles } from './changedTiles.ts';
import { LineIndex } from './LineIndex.ts';
import { LINE_REACH_CELLS, MIXED, TILE_REACHES, TriLabels } from './TriLabels.ts';
import type { BrickTables } from './tabulateBricks.ts';
import { tilesOfBricks } from './tilesOfBricks.ts';

/**
 * The coat table of every region of the surface: bricks that belong to one region are added whole, the others by what each
 * region takes of them. Shares of a cell add to one, so that the pieces sum to the whole to rounding. Cells whose nearest
 * point is keep-clear belong to no region.
 *
 * What the last lines made of a field's bricks is kept with it: after a move only the bricks near the part that moved are
 * divided anew. The sums are those of a first time, to the last bit: each brick is divided by itself, then added in order.
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
  const divider = new BrickDivider(grid, source, tables, cut, lines, clear, labels);
  const labelOfBrick = brickLabeller(grid, cut, labels);
  const last = lastDivided.get(grid);
  const made = newDivided(grid, tables, cut, keepClear);
  const isAsLast = bricksAlike(grid, last, made);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    const known = isAsLast(brick) ? last : undefined;
    const label = known?.labels[brick] ?? labelOfBrick(brick);
    made.labels[brick] = label;
    if (label >= 0) addRows(sums[label], tables.rows, brick * size);
    if (label !== MIXED) continue;
    const shares = known?.shares.get(brick) ?? divider.divide(brick);
    made.shares.set(brick, shares);
    for (let n = 0; n < shares.regions.length; n++) addRows(sums[shares.regions[n]], shares.rows[n], 0);
  }
  lastDivided.set(grid, made);
  for (const sum of sums) sumRunning(sum);
  return sums.map((rows) => ({ knotMm, knotCount, rows }));
}

function addRows(sum: Float64Array, rows: Float64Array, at: number): void {
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

/** How a field's bricks were divided, and by what. */
interface DividedBricks {
  readonly tables: BrickTables;
  readonly cut: CutOutline;
  /** The balls, as text. */
  readonly keepClear: string;
  /** Per brick the region of all of its cells, MIXED or EMPTY. */
  readonly labels: Int32Array;
  /** Of the bricks that are MIXED. */
  readonly shares: Map<number, BrickShares>;
}

const lastDivided = new WeakMap<BandGrid, DividedBricks>();

function newDivided(
  grid: BandGrid,
  tables: BrickTables,
  { segments, triRegion, parts }: CutSurface,
  keepClear: readonly AreaBall[],
): DividedBricks {
  return {
    tables,
    cut: { segments, triRegion, parts },
    keepClear: JSON.stringify(keepClear),
    labels: new Int32Array(grid.brickCount),
    shares: new Map(),
  };
}

/** Tells whether a brick is divided as it was the last time, because the tiles of its cells are. */
function bricksAlike(
  grid: BandGrid,
  last: DividedBricks | undefined,
  now: DividedBricks,
): (brick: number) => boolean {
  if (last?.tables !== now.tables || last.keepClear !== now.keepClear) return () => false;
  const isChanged = changedTiles(last.cut, now.cut, TILE_REACHES * LINE_REACH_CELLS * grid.cellMm);
  if (!isChanged) return () => false;
  const { tiles, starts } = tilesOfBricks(grid, now.cut.parts.tiles);
  return (brick) => {
    for (let n = starts[brick]; n < starts[brick + 1]; n++) if (isChanged[tiles[n]] === 1) return false;
    return true;
  };
}
