import { type BandGrid, BRICK, BRICK_CELLS, UNREACHED } from './BandGrid.ts';

/** Steps from a cell to the next on x, y and z in a copy of a brick that has one more cell on each side. */
export const HALO_Y = BRICK + 2;
export const HALO_Z = HALO_Y * HALO_Y;

/** Where a brick's cell lies in such a copy. */
export function inHalo(local: number): number {
  return 1 + (local & 7) + HALO_Y * (1 + ((local >> 3) & 7)) + HALO_Z * (1 + (local >> 6));
}

/**
 * The distances of a brick and of the cells next to its six faces, in one run, so that whoever asks for a cell's neighbours
 * finds them at fixed steps. The twelve edges are left out.
 */
export class BrickHalo {
  /** HALO_Y x HALO_Y x HALO_Y, mm; UNREACHED where the band holds no cell. */
  readonly phi = new Float64Array(HALO_Y * HALO_Z).fill(UNREACHED);
  private brick = -1;

  constructor(private readonly grid: BandGrid) {}

  /** Copies a brick, unless it is there already. */
  enter(brick: number): void {
    if (brick === this.brick) return;
    this.brick = brick;
    const { grid, phi } = this;
    const from = grid.phi;
    let at = brick * BRICK_CELLS;
    for (let k = 1; k <= BRICK; k++) {
      for (let j = 1; j <= BRICK; j++) {
        const to = 1 + HALO_Y * j + HALO_Z * k;
        for (let i = 0; i < BRICK; i++) phi[to + i] = from[at++];
      }
    }
    const [i, j, k] = grid.corners.subarray(3 * brick, 3 * brick + 3);
    const far = BRICK + 1;
    this.copyFace(grid.cellAt(i - 1, j, k), HALO_Y + HALO_Z, 8, 64, HALO_Y, HALO_Z);
    this.copyFace(grid.cellAt(i + BRICK, j, k), far + HALO_Y + HALO_Z, 8, 64, HALO_Y, HALO_Z);
    this.copyFace(grid.cellAt(i, j - 1, k), 1 + HALO_Z, 1, 64, 1, HALO_Z);
    this.copyFace(grid.cellAt(i, j + BRICK, k), 1 + far * HALO_Y + HALO_Z, 1, 64, 1, HALO_Z);
    this.copyFace(grid.cellAt(i, j, k - 1), 1 + HALO_Y, 1, 8, 1, HALO_Y);
    this.copyFace(grid.cellAt(i, j, k + BRICK), 1 + HALO_Y + far * HALO_Z, 1, 8, 1, HALO_Y);
  }

  /** Copies 8 x 8 cells, the first of them `cell` (-1: no brick there), by their steps in the grid and in the copy. */
  private copyFace(
    cell: number,
    to: number,
    stepA: number,
    stepB: number,
    haloA: number,
    haloB: number,
  ): void {
    const { phi } = this;
    const from = this.grid.phi;
    for (let b = 0; b < BRICK; b++) {
      for (let a = 0; a < BRICK; a++) {
        phi[to + a * haloA + b * haloB] = cell < 0 ? UNREACHED : from[cell + a * stepA + b * stepB];
      }
    }
  }
}
