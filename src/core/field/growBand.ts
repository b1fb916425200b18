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
  const wave = new Wave(grid, source, bandMm, isClosed);
  while (wave.advance(CHUNK)) {
    if (cp.due()) await cp.pause(wave.distanceMm / bandMm);
  }
}

/** The wave itself, kept out of the asynchronous function so that its loop runs on plain locals. */
class Wave {
  /** Of the cell last visited. */
  distanceMm = 0;
  private readonly walk: SurfaceWalk;
  private readonly queue: BucketQueue;
  private readonly corner = new Int32Array(3);
  private readonly scratch = new Float64Array(4);

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly bandMm: number,
    private readonly isClosed: boolean,
  ) {
    const h = grid.cellMm;
    this.walk = new SurfaceWalk(source);
    this.queue = new BucketQueue(h * BUCKET_CELLS, bandMm);
    for (let cell = 0; cell < grid.brickCount * BRICK_CELLS; cell++) {
      const d = grid.phi[cell];
      if (d >= 0 && d !== UNREACHED) this.queue.push(cell, d);
    }
  }

  /** Visits up to `count` cells; false when none is left. */
  advance(count: number): boolean {
    const { grid, queue } = this;
    let cell = -1;
    for (let n = 0; n < count; n++) {
      cell = queue.pop(grid.phi);
      if (cell < 0) return false;
      this.visit(cell);
    }
    this.distanceMm = grid.phi[cell];
    return true;
  }

  /** Measures one cell exactly and offers its triangle to the six neighbours. */
  private visit(cell: number): void {
    const { grid, walk, corner } = this;
    const h = grid.cellMm;
    grid.brickCorner((cell / BRICK_CELLS) | 0, corner);
    const i = corner[0] + (cell & 7);
    const j = corner[1] + ((cell >> 3) & 7);
    const k = corner[2] + ((cell >> 6) & 7);
    const x = grid.origin[0] + (i + 0.5) * h;
    const y = grid.origin[1] + (j + 0.5) * h;
    const z = grid.origin[2] + (k + 0.5) * h;
    walk.run(grid.tri[cell], x, y, z);
    const d = walk.distance();
    grid.tri[cell] = walk.tri;
    grid.phi[cell] = d;
    if (
      !this.isClosed &&
      walk.isOnRim(h * ON_BOARD_CELLS) &&
      this.source.winding.windingNumber(x, y, z) > INSIDE_ABOVE
    ) {
      grid.phi[cell] = -d;
      return;
    }
    // Inside the brick the neighbour is a fixed step away; only at its border is the directory asked.
    this.offer(i & 7 ? cell - 1 : this.cellBeyond(i - 1, j, k, x - h, y, z), d, x - h, y, z);
    this.offer((i & 7) < 7 ? cell + 1 : this.cellBeyond(i + 1, j, k, x + h, y, z), d, x + h, y, z);
    this.offer(j & 7 ? cell - 8 : this.cellBeyond(i, j - 1, k, x, y - h, z), d, x, y - h, z);
    this.offer((j & 7) < 7 ? cell + 8 : this.cellBeyond(i, j + 1, k, x, y + h, z), d, x, y + h, z);
    this.offer(k & 7 ? cell - 64 : this.cellBeyond(i, j, k - 1, x, y, z - h), d, x, y, z - h);
    this.offer((k & 7) < 7 ? cell + 64 : this.cellBeyond(i, j, k + 1, x, y, z + h), d, x, y, z + h);
  }

  /** A neighbour in another brick, which is made only when the band does reach into it; -1 when not. */
  private cellBeyond(i: number, j: number, k: number, x: number, y: number, z: number): number {
    const { grid, scratch, bandMm } = this;
    const known = grid.cellAt(i, j, k);
    if (known >= 0) return known;
    const { positions, indices } = this.source.mesh;
    closestOnTriangle(positions, indices, this.walk.tri, x, y, z, scratch);
    return scratch[3] > bandMm * bandMm ? -1 : grid.cellMade(i, j, k);
  }

  /** Offers the walk's triangle to cell `next` with centre x y z, whose neighbour at distance d has it. */
  private offer(next: number, d: number, x: number, y: number, z: number): void {
    if (next < 0) return;
    const { grid, walk } = this;
    const h = grid.cellMm;
    const { tri } = walk;
    const known = grid.phi[next];
    if (known < d - BACKWARD_CELLS * h || grid.tri[next] === tri) return;
    const { scratch } = this;
    closestOnTriangle(this.source.mesh.positions, this.source.mesh.indices, tri, x, y, z, scratch);
    const offered = Math.fround(Math.sqrt(scratch[3]));
    if (offered < known && offered <= this.bandMm) {
      grid.phi[next] = offered;
      grid.tri[next] = tri;
      this.queue.push(next, offered);
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
  pop(phi: Float32Array): number {
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
      if (phi[cell] === this.keys[entry]) return cell;
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
