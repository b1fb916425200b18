import { writeTriNormal } from '../mesh/writeNormal.ts';
import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { closestOnTriangle } from './closestOnTriangle.ts';

/** Distances under this share of a cell give no usable direction: the triangle's normal is taken. */
const NO_DIRECTION_CELLS = 1e-5;

/** Where a cell's nearest point lies, exactly. Results stay in fields until the next `load`; scratch belongs to the instance. */
export class CellFoot {
  /** Centre of the cell, nearest point of S, unit direction of growing distance. */
  x = 0;
  y = 0;
  z = 0;
  readonly foot = new Float64Array(4);
  gx = 0;
  gy = 0;
  gz = 0;
  /** Signed distance, mm. */
  phi = 0;
  tri = -1;
  private readonly normal = new Float64Array(3);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
  ) {}

  /** Brings in a cell of the band. */
  load(brick: number, local: number): void {
    const { grid, source, foot } = this;
    const cell = brick * BRICK_CELLS + local;
    const h = grid.cellMm;
    const { corners, origin } = grid;
    const x = origin[0] + (corners[3 * brick] + (local & 7) + 0.5) * h;
    const y = origin[1] + (corners[3 * brick + 1] + ((local >> 3) & 7) + 0.5) * h;
    const z = origin[2] + (corners[3 * brick + 2] + (local >> 6) + 0.5) * h;
    const tri = grid.tri[cell];
    closestOnTriangle(source.mesh.positions, source.mesh.indices, tri, x, y, z, foot);
    const d = Math.sqrt(foot[3]);
    const isInside = grid.phi[cell] < 0;
    this.x = x;
    this.y = y;
    this.z = z;
    this.phi = isInside ? -d : d;
    this.tri = tri;
    if (d > NO_DIRECTION_CELLS * h) {
      const inverse = (isInside ? -1 : 1) / d;
      this.gx = (x - foot[0]) * inverse;
      this.gy = (y - foot[1]) * inverse;
      this.gz = (z - foot[2]) * inverse;
    } else {
      this.takeNormal(tri);
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
