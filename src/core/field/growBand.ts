import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import { CORNER, closestOnTriangle, EDGE, FACE } from './closestOnTriangle.ts';

/** Width of a bucket of the queue, in cell edges. Narrower costs empty buckets, wider costs cells visited twice. */
const BUCKET_CELLS = 0.25;

/** A neighbour nearer to S than the present cell by more than this has its own, better source. In cell edges. */
const BACKWARD_CELLS = 0.3;

/** Steps of the walk over the mesh before it is taken to be caught in rounding; real walks need under ten. */
const MOST_STEPS = 256;

/** Cells between two looks at the clock. */
const CHUNK = 4096;

/** Vertices nearer to the board than this share of a cell do not count as the rim of a hole. */
const ON_BOARD_CELLS = 1e-6;

const INSIDE_ABOVE = 0.5;

/**
 * Carries nearest triangles outward from the seeded cells until `bandMm`, in order of distance.
 *
 * A cell is offered the triangle of each neighbour; when its turn comes it walks over the mesh from the best one (across
 * the edge or round the corner that holds the nearest point) until no neighbouring triangle is nearer. Inside cells are
 * walls. On a surface with holes, a cell whose nearest point is the rim of a hole is asked for its winding number, so
 * that the wave stops at the mouth.
 *
 * Exact up to cells whose nearest triangle is reached neither by a neighbour nor by the walk (measured against the tree
 * in test/core/field). About 0.5 microseconds a cell.
 */
export async function growBand(
  grid: BandGrid,
  source: BandSource,
  bandMm: number,
  isClosed: boolean,
  cp: Checkpoint,
): Promise<void> {
  const h = grid.cellMm;
  const [ox, oy, oz] = grid.origin;
  const { positions, indices } = source.mesh;
  const walk = new SurfaceWalk(source);
  const queue = new BucketQueue(h * BUCKET_CELLS, bandMm);
  const corner = new Int32Array(3);
  const scratch = new Float64Array(4);
  for (let cell = 0; cell < grid.brickCount * BRICK_CELLS; cell++) {
    const d = grid.phi[cell];
    if (d >= 0 && d !== UNREACHED) queue.push(cell, d);
  }
  let visited = 0;
  for (;;) {
    const cell = queue.pop(grid);
    if (cell < 0) break;
    if (++visited % CHUNK === 0 && cp.due()) await cp.pause(grid.phi[cell] / bandMm);
    const brick = (cell / BRICK_CELLS) | 0;
    grid.brickCorner(brick, corner);
    const i = corner[0] + (cell & 7);
    const j = corner[1] + ((cell >> 3) & 7);
    const k = corner[2] + ((cell >> 6) & 7);
    const x = ox + (i + 0.5) * h;
    const y = oy + (j + 0.5) * h;
    const z = oz + (k + 0.5) * h;
    walk.run(grid.tri[cell], x, y, z);
    const tri = walk.tri;
    const d = walk.distance();
    grid.tri[cell] = tri;
    grid.phi[cell] = d;
    if (
      !isClosed &&
      walk.isOnRim(h * ON_BOARD_CELLS) &&
      source.winding.windingNumber(x, y, z) > INSIDE_ABOVE
    ) {
      grid.phi[cell] = -d;
      continue;
    }
    for (let side = 0; side < 6; side++) {
      const step = side & 1 ? 1 : -1;
      const axis = side >> 1;
      const at = axis === 0 ? i : axis === 1 ? j : k;
      let next: number;
      // Inside the brick the neighbour is a fixed step away; only at its border is the directory asked.
      if (step > 0 ? (at & 7) < 7 : (at & 7) > 0) {
        next = cell + step * (axis === 0 ? 1 : axis === 1 ? 8 : 64);
      } else {
        const ni = axis === 0 ? i + step : i;
        const nj = axis === 1 ? j + step : j;
        const nk = axis === 2 ? k + step : k;
        next = grid.cellAt(ni, nj, nk);
        if (next < 0) {
          // A brick is made only when the band does reach into it.
          closestOnTriangle(
            positions,
            indices,
            tri,
            ox + (ni + 0.5) * h,
            oy + (nj + 0.5) * h,
            oz + (nk + 0.5) * h,
            scratch,
          );
          if (scratch[3] > bandMm * bandMm) continue;
          next = grid.cellMade(ni, nj, nk);
        }
      }
      if (next < 0) continue;
      const known = grid.phi[next];
      if (known < d - BACKWARD_CELLS * h || grid.tri[next] === tri) continue;
      closestOnTriangle(
        positions,
        indices,
        tri,
        axis === 0 ? x + step * h : x,
        axis === 1 ? y + step * h : y,
        axis === 2 ? z + step * h : z,
        scratch,
      );
      const offered = Math.fround(Math.sqrt(scratch[3]));
      if (offered < known && offered <= bandMm) {
        grid.phi[next] = offered;
        grid.tri[next] = tri;
        queue.push(next, offered);
      }
    }
  }
}

/** Walks over the mesh to a local least of the distance. Scratch belongs to the instance. */
export class SurfaceWalk {
  tri = -1;
  private part = FACE;
  private best = new Float64Array(4);
  private trial = new Float64Array(4);

  constructor(private readonly source: BandSource) {}

  distance(): number {
    return Math.sqrt(this.best[3]);
  }

  /** The nearest point found, x y z in elements 0..2. */
  point(): Float64Array {
    return this.best;
  }

  /** From triangle `start` to the nearest one that a descent over edges and corners reaches. */
  run(start: number, x: number, y: number, z: number): void {
    const { mesh, twins, rings, isSurface } = this.source;
    const { positions, indices } = mesh;
    let { best, trial } = this;
    let tri = start;
    let part = closestOnTriangle(positions, indices, tri, x, y, z, best);
    for (let step = 0; step < MOST_STEPS && part !== FACE; step++) {
      const from = tri;
      if (part >= EDGE) {
        const twin = twins[3 * tri + part - EDGE];
        if (twin < 0) break;
        const other = (twin / 3) | 0;
        if (isSurface[other] === 0) break;
        const otherPart = closestOnTriangle(positions, indices, other, x, y, z, trial);
        if (trial[3] < best[3]) {
          tri = other;
          part = otherPart;
          const swap = best;
          best = trial;
          trial = swap;
        }
      } else {
        const vert = indices[3 * tri + part - CORNER];
        for (let at = rings.start[vert]; at < rings.start[vert + 1]; at++) {
          const other = rings.tris[at];
          if (other === from || isSurface[other] === 0) continue;
          const otherPart = closestOnTriangle(positions, indices, other, x, y, z, trial);
          if (trial[3] < best[3]) {
            tri = other;
            part = otherPart;
            const swap = best;
            best = trial;
            trial = swap;
          }
        }
      }
      if (tri === from) break;
    }
    this.tri = tri;
    this.part = part;
    this.best = best;
    this.trial = trial;
  }

  /** Whether the nearest point lies on an open border that is not on the board. */
  isOnRim(boardToleranceMm: number): boolean {
    if (this.part === FACE || (this.source.standsOnBoard && this.best[2] <= boardToleranceMm)) return false;
    const { mesh, twins, rings } = this.source;
    if (this.part >= EDGE) return twins[3 * this.tri + this.part - EDGE] < 0;
    const vert = mesh.indices[3 * this.tri + this.part - CORNER];
    for (let at = rings.start[vert]; at < rings.start[vert + 1]; at++) {
      const t = rings.tris[at];
      for (let side = 0; side < 3; side++) {
        const touches =
          mesh.indices[3 * t + side] === vert || mesh.indices[3 * t + ((side + 1) % 3)] === vert;
        if (touches && twins[3 * t + side] < 0) return true;
      }
    }
    return false;
  }
}

/** Cells in order of distance, to within a bucket. A cell that was offered a nearer triangle since is passed over. */
class BucketQueue {
  private readonly heads: Int32Array;
  private bucket = 0;
  private count = 0;
  private next = new Int32Array(1 << 16);
  private cells = new Int32Array(1 << 16);
  private keys = new Float32Array(1 << 16);
  private free = -1;

  constructor(
    private readonly widthMm: number,
    bandMm: number,
  ) {
    this.heads = new Int32Array(Math.ceil(bandMm / widthMm) + 2).fill(-1);
  }

  push(cell: number, distanceMm: number): void {
    let entry = this.free;
    if (entry >= 0) {
      this.free = this.next[entry];
    } else {
      entry = this.count++;
      if (entry >= this.cells.length) this.grow();
    }
    const bucket = Math.max(this.bucket, Math.min(this.heads.length - 1, (distanceMm / this.widthMm) | 0));
    this.cells[entry] = cell;
    this.keys[entry] = distanceMm;
    this.next[entry] = this.heads[bucket];
    this.heads[bucket] = entry;
  }

  /** Next cell whose distance is still the one it was pushed with, or -1 when none is left. */
  pop(grid: BandGrid): number {
    while (this.bucket < this.heads.length) {
      const entry = this.heads[this.bucket];
      if (entry < 0) {
        this.bucket++;
        continue;
      }
      this.heads[this.bucket] = this.next[entry];
      this.next[entry] = this.free;
      this.free = entry;
      const cell = this.cells[entry];
      if (grid.phi[cell] === this.keys[entry]) return cell;
    }
    return -1;
  }

  private grow(): void {
    const capacity = this.cells.length * 2;
    const next = new Int32Array(capacity);
    next.set(this.next);
    this.next = next;
    const cells = new Int32Array(capacity);
    cells.set(this.cells);
    this.cells = cells;
    const keys = new Float32Array(capacity);
    keys.set(this.keys);
    this.keys = keys;
  }
}
