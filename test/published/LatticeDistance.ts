import { type SurfaceOnBoard, surfaceOnly } from '../../src/core/field/BandSource.ts';
import { boundingBox, type TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newClosestPoint, SurfaceTree } from '../../src/core/spatial/SurfaceTree.ts';

/** Edges of the lattice to a block, whose middle tells whether any point of it needs a distance of its own. */
const BLOCK_EDGES = 4;
/** From the middle of a block to its corner, in edges. */
const BLOCK_REACH = (BLOCK_EDGES / 2) * Math.sqrt(3);
/** Edges between the outermost level and the end of the lattice. */
const MARGIN_EDGES = 3;
/** Upright lines stand aside by these shares of an edge, so that they hit no vertex of a mesh; own choice. */
const ASIDE = [0.00371, 0.00593] as const;

/** Where an upright line crosses the surface, rising: +1 where it leaves the body on its way up, -1 where it enters. */
interface Column {
  readonly heightsMm: number[];
  readonly steps: number[];
}

/**
 * Signed distance from a scan's surface at the points of a body-centred cubic lattice, positive outside, each worked out once and
 * kept for all levels. Nearest points by `SurfaceTree`, which the field does not use; sides by what an upright line crosses above
 * the point. More than an edge away from every level only the side of it on which the value lies is true.
 *
 * Below the board the distance goes on as that from the open surface, without a kink in the board's plane; the side is that of the
 * point on the board.
 */
export class LatticeDistance {
  /** S alone, without the face that stands on the board. */
  readonly surface: TriMesh;
  readonly minMm: readonly number[];
  readonly maxMm: readonly number[];
  private readonly standsOnBoard: boolean;
  private readonly leastMm: number;
  private readonly mostMm: number;
  /** Points a side of each of the two cubic lattices. */
  private readonly counts: readonly number[];
  private readonly values: Float64Array;
  private readonly columns: Column[];
  /** Distance from the middle of each block to the surface, never negative. */
  private readonly blocks: Float64Array;
  private readonly tree: SurfaceTree;
  private readonly hit = newClosestPoint();

  constructor(
    scan: SurfaceOnBoard,
    levelsMm: readonly number[],
    private readonly edgeMm: number,
  ) {
    this.surface = surfaceOnly(scan);
    this.standsOnBoard = scan.standsOnBoard;
    this.leastMm = Math.min(...levelsMm) - edgeMm;
    this.mostMm = Math.max(...levelsMm) + edgeMm;
    const box = boundingBox(this.surface);
    const roomMm = Math.max(...levelsMm) + MARGIN_EDGES * edgeMm;
    this.minMm = box.min.map((x) => x - roomMm);
    if (this.standsOnBoard) this.minMm = [this.minMm[0], this.minMm[1], -MARGIN_EDGES * edgeMm];
    const edges = this.minMm.map((x, k) => Math.ceil((box.max[k] + roomMm - x) / edgeMm));
    this.maxMm = this.minMm.map((x, k) => x + edges[k] * edgeMm);
    const blockCounts = edges.map((n) => Math.ceil((n + 2) / BLOCK_EDGES));
    this.counts = blockCounts.map((n) => n * BLOCK_EDGES);
    this.blocks = new Float64Array(blockCounts[0] * blockCounts[1] * blockCounts[2]).fill(Number.NaN);
    this.values = new Float64Array(2 * this.counts[0] * this.counts[1] * this.counts[2]).fill(Number.NaN);
    this.columns = this.crossUpwards();
    this.tree = new SurfaceTree(this.surface);
  }

  /** The distance at a point of the lattice, mm. Throws when it is none. */
  at(x: number, y: number, z: number): number {
    const half = this.edgeMm / 2;
    const [nx, ny, nz] = this.counts;
    // Half edges from one half edge before the corner: even numbers are those of the lattice between.
    const u = (x - this.minMm[0]) / half + 1;
    const v = (y - this.minMm[1]) / half + 1;
    const w = (z - this.minMm[2]) / half + 1;
    const i = Math.round(u);
    const j = Math.round(v);
    const k = Math.round(w);
    const isOdd = i & 1;
    const isOff = Math.abs(u - i) + Math.abs(v - j) + Math.abs(w - k) > 1e-5;
    if (isOff || (j & 1) !== isOdd || (k & 1) !== isOdd || i < 0 || j < 0 || k < 0) {
      throw new Error(`LatticeDistance: ${x}, ${y}, ${z} is no point of the lattice of ${this.edgeMm} mm`);
    }
    const index = ((isOdd * nz + (k >> 1)) * ny + (j >> 1)) * nx + (i >> 1);
    let value = this.values[index];
    if (Number.isNaN(value)) {
      value = this.measure(x, y, z, i, j, k);
      this.values[index] = value;
    }
    return value;
  }

  /** What the mesh covers twice, or winds the wrong way round, counted as often as its own volume counts it too much, mm3. */
  overcountedMm3(): number {
    let lengthMm = 0;
    for (const { heightsMm, steps } of this.columns) {
      let winding = 0;
      for (let n = heightsMm.length - 1; n >= 0; n--) {
        winding += steps[n];
        const belowMm = n > 0 ? heightsMm[n - 1] : this.standsOnBoard ? 0 : heightsMm[0];
        lengthMm += (winding - (winding > 0 ? 1 : 0)) * (heightsMm[n] - belowMm);
      }
    }
    return (lengthMm * this.edgeMm ** 2) / 2;
  }

  private measure(x: number, y: number, z: number, i: number, j: number, k: number): number {
    const middle = this.blockDistance(i >> 3, j >> 3, k >> 3);
    const reach = BLOCK_REACH * this.edgeMm;
    if (middle + reach < this.leastMm) return middle;
    const isFarOut = middle - reach > this.mostMm;
    // No surface passes a block as far from it as that: all of it lies on one side.
    if (middle - reach > this.edgeMm && this.isInside(z, i, j)) return -middle;
    if (isFarOut) return middle;
    const away = this.unsigned(x, y, z);
    return this.isInside(z, i, j) ? -away : away;
  }

  private blockDistance(bi: number, bj: number, bk: number): number {
    const [nx, ny] = this.counts;
    const index = (bk * (ny / BLOCK_EDGES) + bj) * (nx / BLOCK_EDGES) + bi;
    if (Number.isNaN(this.blocks[index])) {
      const middle = [bi, bj, bk].map(
        (b, axis) => this.minMm[axis] + ((2 * b + 1) * BLOCK_EDGES - 1) * (this.edgeMm / 2),
      );
      this.blocks[index] = this.unsigned(middle[0], middle[1], middle[2]);
    }
    return this.blocks[index];
  }

  private unsigned(x: number, y: number, z: number): number {
    this.tree.closestPoint(x, y, z, this.hit);
    return this.hit.distance;
  }

  private isInside(z: number, i: number, j: number): boolean {
    const { heightsMm, steps } = this.columns[this.columnOf(i & 1, i >> 1, j >> 1)];
    const fromMm = this.standsOnBoard ? Math.max(0, z) : z;
    let winding = 0;
    for (let n = heightsMm.length - 1; n >= 0 && heightsMm[n] > fromMm; n--) winding += steps[n];
    return winding > 0;
  }

  private columnOf(isOdd: number, i: number, j: number): number {
    return (isOdd * this.counts[1] + j) * this.counts[0] + i;
  }

  /** Every triangle is laid over the columns that pass it. */
  private crossUpwards(): Column[] {
    const { positions: p, indices } = this.surface;
    const [nx, ny] = this.counts;
    const crossed: { heightMm: number; step: number }[][] = Array.from({ length: 2 * nx * ny }, () => []);
    for (let t = 0; t < indices.length; t += 3) {
      const [a, b, c] = [3 * indices[t], 3 * indices[t + 1], 3 * indices[t + 2]];
      const area2 = turn(p, a, b, p[c], p[c + 1]);
      if (area2 === 0) continue;
      for (const isOdd of [0, 1]) {
        const originX = this.minMm[0] + (isOdd - 1 + ASIDE[0]) * (this.edgeMm / 2);
        const originY = this.minMm[1] + (isOdd - 1 + ASIDE[1]) * (this.edgeMm / 2);
        const first = (k: number, origin: number): number =>
          Math.ceil((Math.min(p[a + k], p[b + k], p[c + k]) - origin) / this.edgeMm);
        const last = (k: number, origin: number): number =>
          Math.floor((Math.max(p[a + k], p[b + k], p[c + k]) - origin) / this.edgeMm);
        for (let j = first(1, originY); j <= last(1, originY); j++) {
          for (let i = first(0, originX); i <= last(0, originX); i++) {
            const x = originX + i * this.edgeMm;
            const y = originY + j * this.edgeMm;
            const wa = turn(p, b, c, x, y) / area2;
            const wb = turn(p, c, a, x, y) / area2;
            const wc = turn(p, a, b, x, y) / area2;
            if (wa < 0 || wb < 0 || wc < 0) continue;
            const heightMm = wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2];
            crossed[this.columnOf(isOdd, i, j)].push({ heightMm, step: area2 > 0 ? 1 : -1 });
          }
        }
      }
    }
    return crossed.map((crossings) => {
      crossings.sort((one, other) => one.heightMm - other.heightMm);
      return {
        heightsMm: crossings.map(({ heightMm }) => heightMm),
        steps: crossings.map(({ step }) => step),
      };
    });
  }
}

/** Twice the signed area, seen from above, of the triangle from corner `a` to corner `b` to x y. */
function turn(p: Float64Array, a: number, b: number, x: number, y: number): number {
  return (p[b] - p[a]) * (y - p[a + 1]) - (p[b + 1] - p[a + 1]) * (x - p[a]);
}
