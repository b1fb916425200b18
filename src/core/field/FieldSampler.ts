import { type BandGrid, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';

/** Signed distance anywhere inside the band, by walking no farther than the cell's own nearest triangle. */
export class FieldSampler {
  /** The cell of the last `at`, or -1. */
  cell = -1;
  private readonly foot = new Float64Array(4);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
  ) {}

  /** Signed distance at x y z, mm: exact when the cell's nearest triangle is also the point's. NaN outside the band. */
  at(x: number, y: number, z: number): number {
    const { grid, foot } = this;
    const h = grid.cellMm;
    this.cell = grid.cellAt(
      Math.floor((x - grid.origin[0]) / h),
      Math.floor((y - grid.origin[1]) / h),
      Math.floor((z - grid.origin[2]) / h),
    );
    if (this.cell < 0 || grid.phi[this.cell] === UNREACHED) return Number.NaN;
    const { positions, indices } = this.source.mesh;
    const tri = grid.tri[this.cell];
    closestOnTriangle(positions, indices, tri, x, y, z, foot);
    const d = Math.sqrt(foot[3]);
    // Crossing S between the cell's centre and the point would cost both distances: when they add to more than the way,
    // the point is on the centre's side. Only nearer to S does the triangle's own side decide.
    const way = Math.hypot(
      x - grid.origin[0] - (Math.floor((x - grid.origin[0]) / h) + 0.5) * h,
      y - grid.origin[1] - (Math.floor((y - grid.origin[1]) / h) + 0.5) * h,
      z - grid.origin[2] - (Math.floor((z - grid.origin[2]) / h) + 0.5) * h,
    );
    if (d + Math.abs(grid.phi[this.cell]) > way) return grid.phi[this.cell] < 0 ? -d : d;
    return this.isBehind(tri, x, y, z) ? -d : d;
  }

  private isBehind(tri: number, x: number, y: number, z: number): boolean {
    const { positions: p, indices } = this.source.mesh;
    const a = indices[3 * tri] * 3;
    const b = indices[3 * tri + 1] * 3;
    const c = indices[3 * tri + 2] * 3;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    return (
      (uy * vz - uz * vy) * (x - p[a]) +
        (uz * vx - ux * vz) * (y - p[a + 1]) +
        (ux * vy - uy * vx) * (z - p[a + 2]) <
      0
    );
  }
}
