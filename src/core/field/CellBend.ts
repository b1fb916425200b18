import { type BandGrid, BRICK, BRICK_CELLS, UNREACHED } from './BandGrid.ts';

/**
 * How the distance bends through a cell, from the six cells around it: second differences of the grid's distances. Reads
 * one cell beyond the brick. Scratch belongs to the instance.
 */
export class CellBend {
  /** The largest of the three differences without its sign, mm. */
  mostMm = 0;
  /** The brick whose neighbours are known, and these: before and behind on x, y, z; -1: none. */
  private brick = -1;
  private readonly around = new Int32Array(6);

  constructor(private readonly grid: BandGrid) {}

  /**
   * Sum of the differences about a cell with the signed distance phiMm, growing along the unit vector gx gy gz, mm: the
   * cell's edge squared times the Laplacian of the distance. Where the
   * band holds no cell on one side, the other and the direction stand for both; where it holds neither, the axis counts
   * as straight.
   */
  take(brick: number, local: number, phiMm: number, gx: number, gy: number, gz: number): number {
    const { grid } = this;
    const { phi } = grid;
    const h = grid.cellMm;
    const at = brick * BRICK_CELLS + local;
    if (brick !== this.brick) this.lookAround(brick);
    const i = local & 7;
    const j = local & 56;
    const k = local & 448;
    const x = secondDifference(
      i > 0 ? phi[at - 1] : this.beyond(0, local + 7),
      i < 7 ? phi[at + 1] : this.beyond(1, local - 7),
      phiMm,
      h * gx,
    );
    const y = secondDifference(
      j > 0 ? phi[at - 8] : this.beyond(2, local + 56),
      j < 56 ? phi[at + 8] : this.beyond(3, local - 56),
      phiMm,
      h * gy,
    );
    const z = secondDifference(
      k > 0 ? phi[at - 64] : this.beyond(4, local + 448),
      k < 448 ? phi[at + 64] : this.beyond(5, local - 448),
      phiMm,
      h * gz,
    );
    this.mostMm = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
    return x + y + z;
  }

  private beyond(side: number, local: number): number {
    const brick = this.around[side];
    return brick < 0 ? UNREACHED : this.grid.phi[brick * BRICK_CELLS + local];
  }

  private lookAround(brick: number): void {
    const { grid, around } = this;
    const { corners } = grid;
    for (let side = 0; side < 6; side++) {
      const step = side & 1 ? BRICK : -BRICK;
      const cell = grid.cellAt(
        corners[3 * brick] + (side >> 1 === 0 ? step : 0),
        corners[3 * brick + 1] + (side >> 1 === 1 ? step : 0),
        corners[3 * brick + 2] + (side >> 1 === 2 ? step : 0),
      );
      around[side] = cell < 0 ? -1 : Math.floor(cell / BRICK_CELLS);
    }
    this.brick = brick;
  }
}

function secondDifference(before: number, behind: number, phi: number, rise: number): number {
  if (behind === UNREACHED) return before === UNREACHED ? 0 : 2 * (before - phi + rise);
  return before === UNREACHED ? 2 * (behind - phi - rise) : before + behind - 2 * phi;
}
