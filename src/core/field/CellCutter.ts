import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellBend } from './CellBend.ts';
import { TABLE_WIDTH } from './CoatTable.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';
import { cubeCuts, cubeReach } from './cubeCut.ts';
import { SharpCell } from './SharpCell.ts';

/** Distances under this share of a cell give no usable direction: the triangle's normal is taken. */
const NO_DIRECTION_CELLS = 1e-5;

/**
 * The mean of a cell's distances is that at its centre and this share of the sum of its second differences: (h^2 / 24)
 * times the Laplacian. Source: Taylor series over a cube.
 */
const MEAN_SHARE = 1 / 24;

/**
 * A cell whose second differences are larger, in cell edges, is sharp: within so many cell edges of S the first, beyond the
 * second. Own trials on boxes: with less the round edges of the first coats are lost.
 */
const SHARP_NEAR = 0.05;
const SHARP = 0.15;
const NEAR_CELLS = 4;

/**
 * Sharp cells are cut in parts only where the nearest triangle is larger than so many faces of a cell. On a scan, whose
 * triangles are of a cell's size, every tenth cell is sharp: parts would cost more than the whole field, for 2e-4 to 6e-4 of
 * the first coat.
 */
const LARGE_FACES = 32;

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
  shares: Float64Array;
  private readonly planeShares: Float64Array;
  private readonly bend: CellBend;
  /** Made for the first sharp cell: most scans have none. */
  private sharp: SharpCell | undefined;
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly knotMm: number,
    private readonly knotCount: number,
  ) {
    this.planeShares = new Float64Array(Math.ceil((2 * grid.cellMm) / knotMm) + 3);
    this.shares = this.planeShares;
    this.bend = new CellBend(grid);
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
    this.tri = tri;
    this.x = x;
    this.y = y;
    this.z = z;
    const { bend } = this;
    const bendMm = bend.take(brick, local, this.phi, this.gx, this.gy, this.gz);
    if (bend.mostMm > (d < NEAR_CELLS * h ? SHARP_NEAR : SHARP) * h && this.isLarge(tri)) {
      return this.cutSharp(brick, local);
    }
    if (this.phi < 0 && bendMm < -0.2 * h && this.isBuried(brick, local)) return this.cutPlane(-h);
    return this.cutPlane(this.phi + MEAN_SHARE * bendMm);
  }

  /** Cuts the cell by planes square to its direction, its centre at the distance phiMm. */
  private cutPlane(phiMm: number): boolean {
    const h = this.grid.cellMm;
    const reach = cubeReach(this.gx, this.gy, this.gz) * h;
    const { knotMm } = this;
    const first = Math.max(0, Math.ceil((phiMm - reach) / knotMm));
    if (first >= this.knotCount) return false;
    const full = Math.max(first, Math.ceil((phiMm + reach) / knotMm));
    const end = Math.min(full, this.knotCount);
    cubeCuts(
      this.gx,
      this.gy,
      this.gz,
      (first * knotMm - phiMm) / h,
      knotMm / h,
      end - first,
      this.planeShares,
    );
    this.first = first;
    this.full = full;
    this.shares = this.planeShares;
    return true;
  }

  private cutSharp(brick: number, local: number): boolean {
    this.sharp ??= new SharpCell(this.grid, this.source, this.knotMm, this.knotCount);
    const { sharp, x, y, z, phi, gx, gy, gz } = this;
    if (!sharp.cut(brick, local, x, y, z, phi, gx, gy, gz)) return false;
    this.first = this.sharp.first;
    this.full = this.sharp.full;
    this.shares = this.sharp.shares;
    return true;
  }

  /** Whether the cell's nearest face lies within the body, another part's own wall: then beyond it is inside too. */
  private isBuried(brick: number, local: number): boolean {
    const { grid, gx, gy, gz, phi } = this;
    const h = grid.cellMm;
    const { corners } = grid;
    const x = Math.abs(gx);
    const y = Math.abs(gy);
    const z = Math.abs(gz);
    const axis = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
    const rise = axis === 0 ? gx : axis === 1 ? gy : gz;
    const step = rise < 0 ? -1 : 1;
    const cell = grid.cellAt(
      corners[3 * brick] + (local & 7) + (axis === 0 ? step : 0),
      corners[3 * brick + 1] + ((local >> 3) & 7) + (axis === 1 ? step : 0),
      corners[3 * brick + 2] + (local >> 6) + (axis === 2 ? step : 0),
    );
    if (cell < 0) return false;
    const beyond = grid.phi[cell];
    return beyond < -0.05 * h && Math.abs(-phi - beyond - Math.abs(rise) * h) < 0.1 * h;
  }

  private isLarge(tri: number): boolean {
    return writeTriNormal(this.source.mesh, tri, this.normal) > 2 * LARGE_FACES * this.grid.cellMm ** 2;
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
