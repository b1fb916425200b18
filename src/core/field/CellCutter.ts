import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { TABLE_WIDTH } from './CoatTable.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';
import { cubeCuts, cubeReach } from './cubeCut.ts';

/** Distances under this share of a cell give no usable direction: the triangle's normal is taken. */
const NO_DIRECTION_CELLS = 1e-5;

/**
 * One cell at a time: where its nearest point lies, which way the distance grows, and how much of the cell each knot's
 * level set holds. All results stay in fields until the next `load`. Scratch belongs to the instance.
 */
export class CellCutter {
  /** Centre of the cell, nearest point of S, unit direction of growing distance. */
  x = 0;
  y = 0;
  z = 0;
  readonly foot = new Float64Array(4);
  gx = 0;
  gy = 0;
  gz = 0;
  phi = 0;
  tri = -1;
  /** Knots from `first` on may cut the cell (shares[k - first]); from `full` on hold it whole. */
  first = 0;
  full = 0;
  readonly shares: Float64Array;
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly knotMm: number,
    private readonly knotCount: number,
  ) {
    this.shares = new Float64Array(Math.ceil((2 * grid.cellMm) / knotMm) + 3);
  }

  /** Brings a cell in; false when the band does not reach it or no knot holds any of it. */
  load(brick: number, local: number): boolean {
    const { grid } = this;
    const cell = brick * BRICK_CELLS + local;
    const phi = grid.phi[cell];
    if (phi === UNREACHED) return false;
    const h = grid.cellMm;
    const { corners, origin } = grid;
    const x = origin[0] + (corners[3 * brick] + (local & 7) + 0.5) * h;
    const y = origin[1] + (corners[3 * brick + 1] + ((local >> 3) & 7) + 0.5) * h;
    const z = origin[2] + (corners[3 * brick + 2] + (local >> 6) + 0.5) * h;
    const tri = grid.tri[cell];
    const { foot } = this;
    closestOnTriangle(this.source.mesh.positions, this.source.mesh.indices, tri, x, y, z, foot);
    const d = Math.sqrt(foot[3]);
    if (d > NO_DIRECTION_CELLS * h) {
      const inverse = (phi < 0 ? -1 : 1) / d;
      this.gx = (x - foot[0]) * inverse;
      this.gy = (y - foot[1]) * inverse;
      this.gz = (z - foot[2]) * inverse;
    } else {
      this.takeNormal(tri);
    }
    this.phi = phi < 0 ? -d : d;
    const reach = cubeReach(this.gx, this.gy, this.gz) * h;
    const { knotMm } = this;
    const first = Math.max(0, Math.ceil((this.phi - reach) / knotMm));
    if (first >= this.knotCount) return false;
    const full = Math.max(first, Math.ceil((this.phi + reach) / knotMm));
    const end = Math.min(full, this.knotCount);
    cubeCuts(
      this.gx,
      this.gy,
      this.gz,
      (first * knotMm - this.phi) / h,
      knotMm / h,
      end - first,
      this.shares,
    );
    this.first = first;
    this.full = full;
    this.tri = tri;
    this.x = x;
    this.y = y;
    this.z = z;
    return true;
  }

  /**
   * Adds `share` (0..1) of the loaded cell to a table in running form at rows[at ...]: row k holds what level k encloses
   * beyond level k - 1, so that a cell touches only the knots that cut it. `sumRunning` makes it cumulative.
   */
  addTo(running: Float64Array, at: number, share: number): void {
    const { first, knotCount, shares, x, y, z } = this;
    const whole = share * this.grid.cellMm ** 3;
    const end = Math.min(this.full, knotCount);
    let before = 0;
    for (let k = first; k <= end; k++) {
      if (k >= knotCount) break;
      const now = k < end ? shares[k - first] : 1;
      const volume = whole * (now - before);
      before = now;
      const row = at + TABLE_WIDTH * k;
      running[row] += volume;
      running[row + 1] += volume * x;
      running[row + 2] += volume * y;
      running[row + 3] += volume * z;
    }
  }

  private takeNormal(tri: number): void {
    const { normal } = this;
    const length = writeTriNormal(this.source.mesh, tri, normal);
    // A triangle without area gives no normal; straight up keeps the cell's volume, which then counts half.
    this.gx = length > 0 ? normal[0] / length : 0;
    this.gy = length > 0 ? normal[1] / length : 0;
    this.gz = length > 0 ? normal[2] / length : 1;
  }
}
