import type { Checkpoint } from '../checkpoint.ts';
import { BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import type { CellRange } from './CellRange.ts';
import { estimateCells } from './chooseCell.ts';
import { clipBrick } from './clipBrick.ts';
import { growBand } from './growBand.ts';
import { measureNear } from './measureNear.ts';
import { SAMPLE_REACH_CELLS, scatterSamples } from './scatterSamples.ts';
import { signBand } from './signBand.ts';
import { spreadSamples } from './spreadSamples.ts';

/** A level set that passes a cube cannot be farther from its centre than half the cube's diagonal, in cell edges. */
export const HALF_DIAGONAL_CELLS = Math.sqrt(3) / 2;

/**
 * Every cell within this many cell edges of S is measured and gets its side before the wave goes out: thick enough a wall
 * that the wave cannot slip through (a step of one edge cannot jump from +1/2 to -1/2 or farther).
 */
const WALL_CELLS = 1;

/** Cells of the bricks that hold a band, over the cells of the band: about 2 for bands of one brick's thickness. */
const BRICKS_PER_CELL = 2.2;

/** Empty cells round the band, so that the box never clips it. */
const MARGIN_CELLS = 2;

/** The cubic grid round a surface and its band. */
export interface BandFrame {
  readonly origin: readonly [number, number, number];
  readonly cells: readonly [number, number, number];
}

/** With a board its plane z = 0 is a face between cells, so that the board clips coats exactly. */
export function frameBand(source: BandSource, cellMm: number, bandMm: number): BandFrame {
  const pad = reachOf(cellMm, bandMm) + MARGIN_CELLS * cellMm;
  const { min, max } = source.box;
  const originZ = source.standsOnBoard ? 0 : min[2] - pad;
  return {
    origin: [min[0] - pad, min[1] - pad, originZ],
    cells: [
      Math.ceil((max[0] - min[0] + 2 * pad) / cellMm),
      Math.ceil((max[1] - min[1] + 2 * pad) / cellMm),
      Math.ceil((max[2] + pad - originZ) / cellMm),
    ],
  };
}

/** How far from S a cell's centre may lie that a level set up to `bandMm` can pass, mm. */
export function reachOf(cellMm: number, bandMm: number): number {
  return bandMm + HALF_DIAGONAL_CELLS * cellMm;
}

/**
 * Signed distance and nearest triangle of every cell that a level set 0..bandMm can pass, on a sparse grid.
 * Cells deeper inside than half a diagonal are left out.
 *
 * @param isClosed S closes with the board; when not, inside and outside are told by the winding number cell by cell.
 * @throws PlanError 'too-fine' -> the box needs more bricks than can be held.
 */
export async function buildBandField(
  source: BandSource,
  cellMm: number,
  bandMm: number,
  isClosed: boolean,
  cp: Checkpoint,
): Promise<BandGrid> {
  const { origin, cells } = frameBand(source, cellMm, bandMm);
  const grid = new BandGrid(origin, cellMm, cells);
  await fillBand(grid, source, bandMm, isClosed, cp);
  return grid;
}

/** A slice of a field, made from a part of S. */
export interface BandSlice {
  /** The cells that are wanted. */
  readonly own: CellRange;
  /** The cells next to which S is whole: nothing is known of the sides of others. */
  readonly whole: CellRange;
}

/** Fills an empty grid, or a part of one. */
export async function fillBand(
  grid: BandGrid,
  source: BandSource,
  bandMm: number,
  isClosed: boolean,
  cp: Checkpoint,
  slice?: BandSlice,
): Promise<void> {
  const { ordered } = source;
  const { cellMm } = grid;
  grid.reserve((BRICKS_PER_CELL * estimateCells(ordered.areaMm2, bandMm, cellMm)) / BRICK_CELLS);
  const cloud = await scatterSamples(grid, ordered, cp.within(0, 0.15, 'finding the rubber in the grid'));
  await spreadSamples(
    grid,
    cloud,
    WALL_CELLS + SAMPLE_REACH_CELLS,
    cp.within(0.15, 0.2, 'finding the rubber in the grid'),
  );
  if (slice) for (let brick = 0; brick < grid.brickCount; brick++) clipBrick(grid, brick, slice.whole);
  const near = await measureNear(
    grid,
    ordered,
    cloud,
    cp.within(0.2, 0.35, 'finding the rubber in the grid'),
  );
  await signBand(
    grid,
    source,
    near,
    WALL_CELLS * cellMm,
    isClosed,
    // A slice square to the axis up holds nothing of what is above it.
    slice?.whole.axis === 2 ? 0 : 2,
    cp.within(0.35, 0.45, 'telling inside from outside'),
  );
  await growBand(
    grid,
    source,
    near,
    Math.max(reachOf(cellMm, bandMm), WALL_CELLS * cellMm),
    WALL_CELLS * cellMm,
    isClosed,
    cp.within(0.45, 1, 'measuring distances'),
    slice?.own,
  );
}
