import type { CutSurface } from '../parting/types.ts';
import type { BallGrid } from './BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CellCutter } from './CellCutter.ts';
import { CellDivider } from './CellDivider.ts';
import { CellFoot } from './CellFoot.ts';
import { TABLE_WIDTH } from './CoatTable.ts';
import type { LineIndex } from './LineIndex.ts';
import type { TriLabels } from './TriLabels.ts';
import type { BrickTables } from './tabulateBricks.ts';

/** What the regions take of one brick, each a coat table in running form. */
export class BrickShares {
  readonly regions: number[] = [];
  readonly rows: Float64Array[] = [];

  constructor(private readonly size: number) {}

  /** The rows of a region, zero at first. */
  of(region: number): Float64Array {
    const at = this.regions.indexOf(region);
    if (at >= 0) return this.rows[at];
    const rows = new Float64Array(this.size);
    this.regions.push(region);
    this.rows.push(rows);
    return rows;
  }
}

/** Divides bricks that lines or keep-clear borders run through. Scratch belongs to the instance. */
export class BrickDivider {
  private readonly cutter: CellCutter;
  private readonly foot: CellFoot;
  private readonly divider: CellDivider;

  constructor(
    private readonly grid: BandGrid,
    source: BandSource,
    private readonly tables: BrickTables,
    private readonly cut: CutSurface,
    lines: LineIndex,
    clear: BallGrid,
    private readonly labels: TriLabels,
  ) {
    this.cutter = new CellCutter(grid, source, tables.knotMm, tables.knotCount);
    this.foot = new CellFoot(grid, source);
    this.divider = new CellDivider(source, cut, lines, clear, grid.cellMm);
  }

  /**
   * Most cells of most bricks belong to one region: it gets the whole brick, and gives back what is others'. Cells near a line
   * are divided by the plane that stands on the line along the rubber's normal.
   */
  divide(brick: number): BrickShares {
    const { grid, labels, cutter, foot, divider } = this;
    const { knotCount, rows } = this.tables;
    const size = knotCount * TABLE_WIDTH;
    const shares = new BrickShares(size);
    const base = this.commonLabel(brick);
    if (base >= 0) shares.of(base).set(rows.subarray(brick * size, (brick + 1) * size));
    for (let local = 0; local < BRICK_CELLS; local++) {
      const tri = grid.tri[brick * BRICK_CELLS + local];
      if (tri < 0) continue;
      const own = labels.of(tri);
      if ((base >= 0 && own === base) || !cutter.load(brick, local)) continue;
      if (own >= 0) {
        cutter.addTo(shares.of(own), 0, 1);
        if (base >= 0) cutter.addTo(shares.of(base), 0, -1);
        continue;
      }
      foot.load(brick, local);
      divider.divide(foot);
      const { region, share, otherRegion, otherShare } = divider;
      if (region === base && share === 1) continue;
      if (base >= 0) cutter.addTo(shares.of(base), 0, -1);
      if (share > 0) cutter.addTo(shares.of(region), 0, share);
      if (otherShare > 0) cutter.addTo(shares.of(otherRegion), 0, otherShare);
    }
    return shares;
  }

  /** The region that the most of a brick's cells belong to; -1 when none does. */
  private commonLabel(brick: number): number {
    const { phi, tri } = this.grid;
    const counts = new Int32Array(this.cut.regionCount);
    const end = (brick + 1) * BRICK_CELLS;
    for (let cell = brick * BRICK_CELLS; cell < end; cell++) {
      if (phi[cell] === UNREACHED) continue;
      const label = this.labels.of(tri[cell]);
      if (label >= 0) counts[label]++;
    }
    let common = -1;
    let most = 0;
    for (let region = 0; region < counts.length; region++) {
      if (counts[region] <= most) continue;
      most = counts[region];
      common = region;
    }
    return common;
  }
}
