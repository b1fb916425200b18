import { type BandGrid, UNREACHED } from './BandGrid.ts';
import { BrickHalo, HALO_Y, HALO_Z, inHalo } from './BrickHalo.ts';

/**
 * How the distance grows and bends through a cell, from the six cells around it: first and second differences of the grid's
 * distances. Scratch belongs to the instance.
 */
export class CellBend {
  /** First differences: the direction in which the distance grows, of length 1 where it is smooth, shorter at a crease. */
  gx = 0;
  gy = 0;
  gz = 0;
  /** Sum of the second differences, mm: the cell's edge squared times the Laplacian of the distance. */
  sumMm = 0;
  /** The largest of the three second differences without its sign, mm. */
  mostMm = 0;
  private readonly halo: BrickHalo;

  constructor(private readonly grid: BandGrid) {
    this.halo = new BrickHalo(grid);
  }

  /** Takes the differences about a cell of the band; false, and nothing taken, where one of the six is missing. */
  take(brick: number, local: number): boolean {
    const { halo } = this;
    halo.enter(brick);
    const { phi } = halo;
    const at = inHalo(local);
    const left = phi[at - 1];
    const right = phi[at + 1];
    const front = phi[at - HALO_Y];
    const back = phi[at + HALO_Y];
    const below = phi[at - HALO_Z];
    const above = phi[at + HALO_Z];
    // One that is UNREACHED, which is infinite, makes the sum so.
    if (left + right + front + back + below + above === UNREACHED) return false;
    const twice = 2 * phi[at];
    const half = 0.5 / this.grid.cellMm;
    this.gx = (right - left) * half;
    this.gy = (back - front) * half;
    this.gz = (above - below) * half;
    this.put(left + right - twice, front + back - twice, below + above - twice);
    return true;
  }

  /**
   * As `take` for a cell that lacks neighbours, whose signed distance phiMm grows along the unit vector gx gy gz: where one
   * side of an axis is missing, the other and the direction stand for both; where both are, the axis counts as straight.
   */
  takeOpen(brick: number, local: number, phiMm: number, gx: number, gy: number, gz: number): void {
    const { halo } = this;
    halo.enter(brick);
    const { phi } = halo;
    const h = this.grid.cellMm;
    const at = inHalo(local);
    this.gx = gx;
    this.gy = gy;
    this.gz = gz;
    this.put(
      secondDifference(phi[at - 1], phi[at + 1], phiMm, h * gx),
      secondDifference(phi[at - HALO_Y], phi[at + HALO_Y], phiMm, h * gy),
      secondDifference(phi[at - HALO_Z], phi[at + HALO_Z], phiMm, h * gz),
    );
  }

  private put(x: number, y: number, z: number): void {
    this.sumMm = x + y + z;
    this.mostMm = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
  }
}

function secondDifference(before: number, behind: number, phi: number, rise: number): number {
  if (behind === UNREACHED) return before === UNREACHED ? 0 : 2 * (before - phi + rise);
  return before === UNREACHED ? 2 * (behind - phi - rise) : before + behind - 2 * phi;
}
