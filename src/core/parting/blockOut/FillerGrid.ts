import type { PullFrame } from '../undercut/PullFrame.ts';

/** Cells along the edge of a brick. */
export const BRICK = 8;
const BRICK_CELLS = BRICK * BRICK * BRICK;

/** Bricks are counted from the middle of this many a side, so that their numbers are not negative: 2^48 in all, exact in a double. */
const PLACES = 1 << 16;

/** Outside the rubber, and nothing in the way of the pull. */
export const OPEN = 0;
/** Outside the rubber, nearest to another piece. */
export const OTHER = 1;
/** In the rubber, and no part of the filler's solid. */
export const RUBBER = 2;
/** Below the board. */
export const BELOW = 3;
/** Filler. */
export const FILLER = 4;
/** In the rubber just under a hidden face: there the filler's solid reaches in, so that the union leaves no gap. */
export const ROOT = 5;

/**
 * Cubic cells in the axes of a pull (i along u, j along v, k along the pull), in bricks of 8 x 8 x 8 made on demand.
 * The centre of cell i j k lies at offset + (i, j, k) * cellMm in those axes.
 */
export class FillerGrid {
  brickCount = 0;
  /** By cell: OPEN ... ROOT. */
  state = new Uint8Array(64 * BRICK_CELLS);
  /** By cell near the rubber: the nearest cut triangle of the piece; else -1. */
  tri = new Int32Array(64 * BRICK_CELLS);
  /** By cell: 1 when it belongs to the filler's solid in the end. */
  isKept = new Uint8Array(0);
  /** By brick: i j k of its first cell. */
  readonly corners: number[] = [];
  private readonly places = new Map<number, number>();

  constructor(
    readonly frame: PullFrame,
    readonly cellMm: number,
    readonly offset: readonly [number, number, number],
  ) {}

  /** Number of cells in all bricks. */
  get cellCount(): number {
    return this.brickCount * BRICK_CELLS;
  }

  /** Number of a cell, or -1 where no brick is. */
  cellAt(i: number, j: number, k: number): number {
    const brick = this.places.get(placeOf(i >> 3, j >> 3, k >> 3));
    return brick === undefined ? -1 : brick * BRICK_CELLS + (i & 7) + ((j & 7) << 3) + ((k & 7) << 6);
  }

  /** Makes the brick that holds a cell; -1 when it is there already, else its number. */
  addBrick(i: number, j: number, k: number): number {
    const place = placeOf(i >> 3, j >> 3, k >> 3);
    if (this.places.has(place)) return -1;
    const brick = this.brickCount++;
    this.places.set(place, brick);
    this.corners.push((i >> 3) * BRICK, (j >> 3) * BRICK, (k >> 3) * BRICK);
    if (this.cellCount > this.state.length) {
      const state = new Uint8Array(2 * this.state.length);
      state.set(this.state);
      this.state = state;
      const tri = new Int32Array(2 * this.tri.length);
      tri.set(this.tri);
      this.tri = tri;
    }
    this.tri.fill(-1, brick * BRICK_CELLS, this.cellCount);
    return brick;
  }

  /** Writes i j k of a cell. */
  coordsOf(cell: number, out: Int32Array): void {
    const brick = Math.floor(cell / BRICK_CELLS);
    const local = cell - brick * BRICK_CELLS;
    out[0] = this.corners[3 * brick] + (local & 7);
    out[1] = this.corners[3 * brick + 1] + ((local >> 3) & 7);
    out[2] = this.corners[3 * brick + 2] + (local >> 6);
  }

  /** Writes the point at i j k, which need not be whole, in the board's frame, mm. */
  pointAt(i: number, j: number, k: number, out: Float64Array): void {
    const { u, v, d } = this.frame;
    const a = this.offset[0] + i * this.cellMm;
    const b = this.offset[1] + j * this.cellMm;
    const c = this.offset[2] + k * this.cellMm;
    for (let n = 0; n < 3; n++) out[n] = a * u[n] + b * v[n] + c * d[n];
  }

  /** The cell whose centre is nearest to x y z, or -1 where no brick is. */
  cellNear(x: number, y: number, z: number): number {
    return this.cellAt(this.nearest(0, x, y, z), this.nearest(1, x, y, z), this.nearest(2, x, y, z));
  }

  /** Coordinate (0: i, 1: j, 2: k) of the cell whose centre is nearest to x y z. */
  nearest(axis: 0 | 1 | 2, x: number, y: number, z: number): number {
    const along = axis === 0 ? this.frame.u : axis === 1 ? this.frame.v : this.frame.d;
    return Math.round((x * along[0] + y * along[1] + z * along[2] - this.offset[axis]) / this.cellMm);
  }

  /** True when the cell whose centre is nearest to x y z belongs to the filler's solid. */
  holds(x: number, y: number, z: number): boolean {
    const cell = this.cellNear(x, y, z);
    return cell >= 0 && this.isKept[cell] === 1;
  }
}

function placeOf(bi: number, bj: number, bk: number): number {
  const half = PLACES / 2;
  return bi + half + PLACES * (bj + half + PLACES * (bk + half));
}
