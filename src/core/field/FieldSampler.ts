import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';

/** Signed distance anywhere inside the band, by walking no farther than the cell's own nearest triangle. */
export class FieldSampler {
  /** The cell of the last `at`, or -1. */
  cell = -1;
  private readonly foot = new Float64Array(4);
  private readonly normal = new Float64Array(3);

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
    const { normal } = this;
    const { mesh } = this.source;
    writeTriNormal(mesh, tri, normal);
    const a = mesh.indices[3 * tri] * 3;
    const { positions: p } = mesh;
    return normal[0] * (x - p[a]) + normal[1] * (y - p[a + 1]) + normal[2] * (z - p[a + 2]) < 0;
  }
}
