import { PlanError } from '../errors.ts';

/** Cells along the edge of a brick; a brick is one run of memory. */
export const BRICK = 8;
export const BRICK_CELLS = BRICK * BRICK * BRICK;

/** More brick places than this (a dense directory of 4 bytes each) is a mistake of scale, not a mould. */
const MOST_BRICK_PLACES = 1 << 26;

const NO_BRICK = -1;

/** Cell not reached by the band. */
export const UNREACHED = Number.POSITIVE_INFINITY;

/** A run of bricks along each axis, `to` not included. */
export interface BrickBox {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
}

/**
 * A sparse grid of cubic cells over a box, in bricks of 8 x 8 x 8 made on demand.
 *
 * Cell (i, j, k) has its centre at origin + (i + 1/2, j + 1/2, k + 1/2) * cellMm. Within a brick the cells run i fastest.
 * `phi`: distance of the cell's centre from S, mm, outside positive, UNREACHED where the band does not reach.
 * `tri`: the triangle that holds the nearest point, or -1.
 */
export class BandGrid {
  /** Where bricks may be: the whole grid, or a part of it. */
  private readonly fromX: number;
  private readonly fromY: number;
  private readonly fromZ: number;
  private readonly bricksX: number;
  private readonly bricksY: number;
  private readonly bricksZ: number;
  brickCount = 0;
  /** brickCapacity x BRICK_CELLS */
  phi: Float32Array;
  tri: Int32Array;
  /** brickCapacity x 3: cell coordinates i j k of each brick's first cell; made anew, as `phi` and `tri`, when room runs out. */
  corners: Int32Array;
  private readonly directory: Int32Array;

  constructor(
    readonly origin: readonly [number, number, number],
    readonly cellMm: number,
    readonly cells: readonly [number, number, number],
    within: BrickBox = { from: [0, 0, 0], to: bricksOf(cells) },
  ) {
    [this.fromX, this.fromY, this.fromZ] = within.from;
    this.bricksX = within.to[0] - this.fromX;
    this.bricksY = within.to[1] - this.fromY;
    this.bricksZ = within.to[2] - this.fromZ;
    const places = this.bricksX * this.bricksY * this.bricksZ;
    if (places > MOST_BRICK_PLACES) {
      throw new PlanError(
        'too-fine',
        `Cells of ${cellMm} mm over this scan would need ${places} blocks; choose a coarser resolution, or check the unit.`,
        'resolutionMm',
      );
    }
    this.directory = new Int32Array(places).fill(NO_BRICK);
    const capacity = 256;
    this.phi = new Float32Array(capacity * BRICK_CELLS);
    this.tri = new Int32Array(capacity * BRICK_CELLS);
    this.corners = new Int32Array(3 * capacity);
  }

  /** Index of cell i j k in `phi` and `tri`, or -1 outside the part or where no brick is. */
  cellAt(i: number, j: number, k: number): number {
    const bx = (i >> 3) - this.fromX;
    const by = (j >> 3) - this.fromY;
    const bz = (k >> 3) - this.fromZ;
    if (bx < 0 || by < 0 || bz < 0 || bx >= this.bricksX || by >= this.bricksY || bz >= this.bricksZ)
      return -1;
    const brick = this.directory[bx + this.bricksX * (by + this.bricksY * bz)];
    return brick < 0 ? -1 : brick * BRICK_CELLS + (i & 7) + ((j & 7) << 3) + ((k & 7) << 6);
  }

  /** As `cellAt`, making the brick when there is none; -1 only outside the part. */
  cellMade(i: number, j: number, k: number): number {
    const bx = (i >> 3) - this.fromX;
    const by = (j >> 3) - this.fromY;
    const bz = (k >> 3) - this.fromZ;
    if (bx < 0 || by < 0 || bz < 0 || bx >= this.bricksX || by >= this.bricksY || bz >= this.bricksZ)
      return -1;
    const place = bx + this.bricksX * (by + this.bricksY * bz);
    let brick = this.directory[place];
    if (brick < 0) brick = this.addBrick(place);
    return brick * BRICK_CELLS + (i & 7) + ((j & 7) << 3) + ((k & 7) << 6);
  }

  /** Writes the cell coordinates i j k of the first cell of a brick. */
  brickCorner(brick: number, out: Int32Array): void {
    const { corners } = this;
    out[0] = corners[3 * brick];
    out[1] = corners[3 * brick + 1];
    out[2] = corners[3 * brick + 2];
  }

  /** Adds a brick whose first cell is i j k, with its 512 cells of `phi` and `tri` from `at` on. */
  addFilled(i: number, j: number, k: number, phi: Float32Array, tri: Int32Array, at: number): void {
    const cell = this.cellMade(i, j, k);
    this.phi.set(phi.subarray(at, at + BRICK_CELLS), cell);
    this.tri.set(tri.subarray(at, at + BRICK_CELLS), cell);
  }

  /** Makes room for so many bricks at once. Memory that is never written to costs nothing. */
  reserve(bricks: number): void {
    const whole = Math.ceil(bricks);
    if (3 * whole > this.corners.length) this.makeRoom(whole);
  }

  private makeRoom(bricks: number): void {
    this.phi = grown(this.phi, new Float32Array(bricks * BRICK_CELLS));
    this.tri = grown(this.tri, new Int32Array(bricks * BRICK_CELLS));
    this.corners = grown(this.corners, new Int32Array(3 * bricks));
  }

  private addBrick(place: number): number {
    const brick = this.brickCount++;
    if (3 * brick >= this.corners.length) this.makeRoom(Math.ceil(brick * 1.5));
    this.directory[place] = brick;
    this.corners[3 * brick] = (this.fromX + (place % this.bricksX)) * BRICK;
    this.corners[3 * brick + 1] = (this.fromY + (Math.floor(place / this.bricksX) % this.bricksY)) * BRICK;
    this.corners[3 * brick + 2] = (this.fromZ + Math.floor(place / (this.bricksX * this.bricksY))) * BRICK;
    this.phi.fill(UNREACHED, brick * BRICK_CELLS, (brick + 1) * BRICK_CELLS);
    this.tri.fill(-1, brick * BRICK_CELLS, (brick + 1) * BRICK_CELLS);
    return brick;
  }
}

/** Bricks along each axis that hold so many cells. */
export function bricksOf(cells: readonly [number, number, number]): [number, number, number] {
  return [Math.ceil(cells[0] / BRICK), Math.ceil(cells[1] / BRICK), Math.ceil(cells[2] / BRICK)];
}

function grown<T extends Float32Array | Int32Array>(from: T, to: T): T {
  to.set(from as never);
  return to;
}
