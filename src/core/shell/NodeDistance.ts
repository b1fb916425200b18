import { type BandGrid, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { closestOnTriangle } from '../field/closestOnTriangle.ts';

/**
 * Distance from S at every lattice place of a grid's cell centres, also where the band does not reach (there from the
 * nearest triangles of the places around) and in the layer under the board (there carried on straight).
 */
export class NodeDistance {
  private readonly known = new Map<number, number>();
  private readonly foot = new Float64Array(4);

  /** @param bandMm places that the band misses are outside when they are farther than this, else inside. */
  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly bandMm: number,
  ) {}

  /** Signed, mm; UNREACHED far from the band. Exact where the band reaches. */
  at(i: number, j: number, k: number): number {
    if (k < 0) return this.below(i, j);
    const cell = this.grid.cellAt(i, j, k);
    if (cell >= 0 && this.grid.phi[cell] !== UNREACHED) return this.grid.phi[cell];
    const { cells } = this.grid;
    const key = i + cells[0] * (j + cells[1] * k);
    let distance = this.known.get(key);
    if (distance === undefined) {
      distance = this.fromAround(i, j, k);
      this.known.set(key, distance);
    }
    return distance;
  }

  /** The board is half a cell under the first layer: surfaces meet it at the slope that they have above it. */
  private below(i: number, j: number): number {
    const first = this.at(i, j, 0);
    const second = this.at(i, j, 1);
    if (first === UNREACHED || second === UNREACHED) return first;
    const h = this.grid.cellMm;
    return first + Math.max(-h, Math.min(h, first - second));
  }

  private fromAround(i: number, j: number, k: number): number {
    const { grid, foot } = this;
    const { positions, indices } = this.source.mesh;
    const h = grid.cellMm;
    const x = grid.origin[0] + (i + 0.5) * h;
    const y = grid.origin[1] + (j + 0.5) * h;
    const z = grid.origin[2] + (k + 0.5) * h;
    let least = UNREACHED;
    for (let dk = -1; dk <= 1; dk++) {
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const cell = grid.cellAt(i + di, j + dj, k + dk);
          if (cell < 0 || grid.phi[cell] === UNREACHED) continue;
          closestOnTriangle(positions, indices, grid.tri[cell], x, y, z, foot);
          least = Math.min(least, foot[3]);
        }
      }
    }
    if (least === UNREACHED) return UNREACHED;
    const distance = Math.sqrt(least);
    return distance < this.bandMm ? -distance : distance;
  }
}
