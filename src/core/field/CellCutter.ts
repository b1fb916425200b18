import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellBend } from './CellBend.ts';
import { CellFoot } from './CellFoot.ts';
import { TABLE_WIDTH } from './CoatTable.ts';
import { cubeCuts, cubeReach } from './cubeCut.ts';
import { SharpCell } from './SharpCell.ts';

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
const SHARP = 0.25;
const NEAR_CELLS = 4;

/** With second differences up to this a crease is slight, and eighths will do. Own trials on boxes and a goblet of facets. */
const SLIGHT = 0.15;

/**
 * While no second difference is larger than this, in cell edges, the gradient of differences stands for the exact direction;
 * where level sets bend more it would be off by their third derivatives.
 */
const SMOOTH = 0.05;

/** A distance grows by its own length: a gradient shorter than this is that of cells on sides that do not fit together. */
const NO_GRADIENT = 0.5;

/**
 * Sharp cells are cut in parts only where the nearest triangle is larger than so many faces of a cell. On a scan, whose
 * triangles are of a cell's size, every tenth cell is sharp: parts would cost more than the whole field, for 2e-4 to 6e-4 of
 * the first coat.
 */
const LARGE_FACES = 32;

/**
 * One cell at a time: which way the distance grows, and how much of the cell each knot's level set holds. All results stay
 * in fields until the next `load`. Scratch belongs to the instance.
 */
export class CellCutter {
  /** Centre of the cell, unit direction of growing distance. */
  private x = 0;
  private y = 0;
  private z = 0;
  private gx = 0;
  private gy = 0;
  private gz = 0;
  /** Knots from `first` on may cut the cell (shares[k - first]); from `full` on hold it whole. */
  first = 0;
  full = 0;
  shares: Float64Array;
  private readonly cellMm3: number;
  private readonly planeShares: Float64Array;
  private readonly bend: CellBend;
  private readonly foot: CellFoot;
  /** Made for the first sharp cell: most scans have none. */
  private sharp: SharpCell | undefined;
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly knotMm: number,
    private readonly knotCount: number,
  ) {
    this.cellMm3 = grid.cellMm ** 3;
    this.planeShares = new Float64Array(Math.ceil((2 * grid.cellMm) / knotMm) + 3);
    this.shares = this.planeShares;
    this.bend = new CellBend(grid);
    this.foot = new CellFoot(grid, source);
  }

  /** Brings a cell in; false when the band does not reach it or no knot holds any of it. */
  load(brick: number, local: number): boolean {
    const { grid, bend } = this;
    const phi = grid.phi[brick * BRICK_CELLS + local];
    if (phi === UNREACHED) return false;
    const h = grid.cellMm;
    const { corners, origin } = grid;
    this.x = origin[0] + (corners[3 * brick] + (local & 7) + 0.5) * h;
    this.y = origin[1] + (corners[3 * brick + 1] + ((local >> 3) & 7) + 0.5) * h;
    this.z = origin[2] + (corners[3 * brick + 2] + (local >> 6) + 0.5) * h;
    if (bend.take(brick, local) && bend.mostMm <= SMOOTH * h) {
      const { gx, gy, gz } = bend;
      const length = Math.sqrt(gx * gx + gy * gy + gz * gz);
      if (length > NO_GRADIENT) {
        this.gx = gx / length;
        this.gy = gy / length;
        this.gz = gz / length;
        return this.cutPlane(phi + MEAN_SHARE * bend.sumMm);
      }
    }
    return this.cutExactly(brick, local);
  }

  /** As `load`, from the cell's exact nearest point. */
  private cutExactly(brick: number, local: number): boolean {
    const { foot, bend } = this;
    const h = this.grid.cellMm;
    foot.load(brick, local);
    const { phi, gx, gy, gz, tri } = foot;
    this.gx = gx;
    this.gy = gy;
    this.gz = gz;
    bend.takeOpen(brick, local, phi, gx, gy, gz);
    const sharp = Math.abs(phi) < NEAR_CELLS * h ? SHARP_NEAR : SHARP;
    if (bend.mostMm > sharp * h && this.isLarge(tri)) {
      return this.cutSharp(brick, local, phi, bend.mostMm <= SLIGHT * h);
    }
    if (phi < 0 && bend.sumMm < -0.2 * h && this.isBuried(brick, local, phi)) return this.cutPlane(-h);
    return this.cutPlane(phi + MEAN_SHARE * bend.sumMm);
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

  private cutSharp(brick: number, local: number, phi: number, isSlight: boolean): boolean {
    this.sharp ??= new SharpCell(this.grid, this.source, this.knotMm, this.knotCount);
    const { sharp, x, y, z, gx, gy, gz } = this;
    if (!sharp.cut(brick, local, x, y, z, phi, gx, gy, gz, isSlight)) return false;
    this.first = this.sharp.first;
    this.full = this.sharp.full;
    this.shares = this.sharp.shares;
    return true;
  }

  /** Whether the cell's nearest face lies within the body, another part's own wall: then beyond it is inside too. */
  private isBuried(brick: number, local: number, phi: number): boolean {
    const { grid, gx, gy, gz } = this;
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
    const whole = share * this.cellMm3;
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
}
