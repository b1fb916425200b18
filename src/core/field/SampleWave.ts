import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';
import type { SampleCloud } from './SampleCloud.ts';

/** Buckets of the queue per cell edge of distance. Fewer means cells visited twice, more costs empty buckets. */
const BUCKETS_PER_CELL = 4;

/** A cell that no wave enters: nothing is nearer than this. Squared distances are never negative. */
export const WALL = -1;

/** Bits of a tile's edge in cells: the band within 64^3 cells and the samples under it fit a core's own cache. */
const TILE_BITS = 6;

/**
 * Hands samples on from cell to cell, nearest first, away from the sample only, out to `reachCells`. Reads and writes the
 * grid as `scatterSamples` leaves it: squared distance, in cell edges squared, and number of the sample. Cells of WALL are
 * neither entered nor asked.
 *
 * One tile of space after the other: within a tile in order of distance; what reaches over its border waits in the other
 * tile's inbox, which may open a tile again. The end is the same as with one queue, where no cell can be improved, but the
 * cells and samples at hand stay in the cache: five times faster for a million triangles (own measurement).
 */
export class SampleWave {
  private readonly reach2: number;
  /** Of the tile at hand: cells by distance, each bucket in the order in which they were found. */
  private readonly buckets: Int32Array[] = [];
  private readonly filled: Int32Array;
  private bucket: number;
  private next = 0;
  /** Number of the tile of each place of the coarse directory, or -1; tiles by the order in which they were met. */
  private readonly tileAt: Int32Array;
  private readonly tilesX: number;
  private readonly tilesY: number;
  private readonly inboxes: number[][] = [];
  private tileOfBrick = new Int32Array(1 << 10);
  private bricksKnown = 0;
  private tile = -1;
  private finished = 0;

  constructor(
    private readonly grid: BandGrid,
    private readonly cloud: SampleCloud,
    reachCells: number,
  ) {
    this.reach2 = reachCells * reachCells;
    const count = Math.floor(reachCells * BUCKETS_PER_CELL) + 2;
    for (let n = 0; n < count; n++) this.buckets.push(new Int32Array(1 << 10));
    this.filled = new Int32Array(count);
    this.bucket = count;
    this.tilesX = (grid.cells[0] >> TILE_BITS) + 1;
    this.tilesY = (grid.cells[1] >> TILE_BITS) + 1;
    this.tileAt = new Int32Array(this.tilesX * this.tilesY * ((grid.cells[2] >> TILE_BITS) + 1)).fill(-1);
  }

  /** Share (0..1) of the tiles met so far that were worked through. */
  fraction(): number {
    return Math.min(1, this.finished / this.inboxes.length);
  }

  /** Puts a cell that holds a sample into the inbox of its tile. */
  push(cell: number): void {
    this.inboxes[this.tileOf((cell / BRICK_CELLS) | 0)].push(cell);
  }

  /** Visits about `count` cells; false when none is left. `meet` may turn a cell into WALL (false) before it hands on. */
  advance(count: number, meet?: (cell: number) => boolean): boolean {
    const { buckets, filled } = this;
    const last = buckets.length - 1;
    let left = count;
    while (this.bucket <= last || this.openTile()) {
      // Cells may be added to the bucket at hand while it is worked through.
      while (this.next < filled[this.bucket]) {
        if (left-- === 0) return true;
        const cell = buckets[this.bucket][this.next++];
        const d2 = this.grid.phi[cell];
        // Reached more nearly since, and visited then; or a wall.
        if (d2 === WALL || Math.min(last, bucketOf(d2)) < this.bucket) continue;
        if (meet !== undefined && !meet(cell)) continue;
        this.visit(cell);
      }
      filled[this.bucket++] = 0;
      this.next = 0;
    }
    return false;
  }

  /** Brings the inbox of the next tile that has one into the buckets; false when all are empty. */
  private openTile(): boolean {
    const { inboxes } = this;
    const { phi } = this.grid;
    for (let n = 1; n <= inboxes.length; n++) {
      const tile = (this.tile + n) % inboxes.length;
      const inbox = inboxes[tile];
      if (inbox.length === 0) continue;
      inboxes[tile] = [];
      this.tile = tile;
      this.finished++;
      this.bucket = 0;
      for (const cell of inbox) if (phi[cell] !== WALL) this.put(cell, bucketOf(phi[cell]));
      return true;
    }
    return false;
  }

  private put(cell: number, wanted: number): void {
    const bucket = Math.min(this.buckets.length - 1, wanted);
    const n = this.filled[bucket]++;
    let cells = this.buckets[bucket];
    if (n === cells.length) {
      cells = new Int32Array(2 * n);
      cells.set(this.buckets[bucket]);
      this.buckets[bucket] = cells;
    }
    cells[n] = cell;
  }

  private visit(cell: number): void {
    const { grid, reach2 } = this;
    const { points } = this.cloud;
    const id = grid.tri[cell];
    const brick = (cell / BRICK_CELLS) | 0;
    const { corners } = grid;
    const i = corners[3 * brick] + (cell & 7);
    const j = corners[3 * brick + 1] + ((cell >> 3) & 7);
    const k = corners[3 * brick + 2] + ((cell >> 6) & 7);
    const ex = i - points[3 * id];
    const ey = j - points[3 * id + 1];
    const ez = k - points[3 * id + 2];
    const d2 = ex * ex + ey * ey + ez * ez + 1;
    // One cell farther along an axis the square grows by 2 e + 1; where it would shrink the sample came from there.
    let to = d2 + 2 * ex;
    if (ex > -0.5 && to <= reach2) {
      if ((cell & 7) < 7) this.offer(cell + 1, to, id);
      else this.offerBeyond(i + 1, j, k, to, id);
    }
    to = d2 - 2 * ex;
    if (ex < 0.5 && to <= reach2) {
      if ((cell & 7) > 0) this.offer(cell - 1, to, id);
      else this.offerBeyond(i - 1, j, k, to, id);
    }
    to = d2 + 2 * ey;
    if (ey > -0.5 && to <= reach2) {
      if ((cell & 56) < 56) this.offer(cell + 8, to, id);
      else this.offerBeyond(i, j + 1, k, to, id);
    }
    to = d2 - 2 * ey;
    if (ey < 0.5 && to <= reach2) {
      if ((cell & 56) > 0) this.offer(cell - 8, to, id);
      else this.offerBeyond(i, j - 1, k, to, id);
    }
    to = d2 + 2 * ez;
    if (ez > -0.5 && to <= reach2) {
      if ((cell & 448) < 448) this.offer(cell + 64, to, id);
      else this.offerBeyond(i, j, k + 1, to, id);
    }
    to = d2 - 2 * ez;
    if (ez < 0.5 && to <= reach2) {
      if ((cell & 448) > 0) this.offer(cell - 64, to, id);
      else this.offerBeyond(i, j, k - 1, to, id);
    }
  }

  /** Offers a sample to a cell of the brick at hand. */
  private offer(cell: number, d2: number, id: number): void {
    const { phi, tri } = this.grid;
    const known = phi[cell];
    const offered = Math.fround(d2);
    if (offered >= known) return;
    phi[cell] = offered;
    tri[cell] = id;
    const bucket = Math.max(this.bucket, bucketOf(offered));
    // A cell that waits in that bucket already is visited there with what it holds by then.
    if (bucket === this.bucket || known === Infinity || bucketOf(known) !== bucket) this.put(cell, bucket);
  }

  /** Offers a sample to a cell of another brick, which may lie in another tile. */
  private offerBeyond(i: number, j: number, k: number, d2: number, id: number): void {
    const { grid } = this;
    const cell = grid.cellMade(i, j, k);
    if (cell < 0) return;
    const tile = this.tileOf((cell / BRICK_CELLS) | 0);
    if (tile === this.tile) {
      this.offer(cell, d2, id);
      return;
    }
    const offered = Math.fround(d2);
    if (offered >= grid.phi[cell]) return;
    grid.phi[cell] = offered;
    grid.tri[cell] = id;
    this.inboxes[tile].push(cell);
  }

  private tileOf(brick: number): number {
    if (brick >= this.bricksKnown) this.placeBricks();
    return this.tileOfBrick[brick];
  }

  /** Finds the tiles of bricks that were made since. */
  private placeBricks(): void {
    const { corners, brickCount } = this.grid;
    if (brickCount > this.tileOfBrick.length) {
      const known = this.tileOfBrick;
      this.tileOfBrick = new Int32Array(2 * brickCount);
      this.tileOfBrick.set(known);
    }
    for (; this.bricksKnown < brickCount; this.bricksKnown++) {
      const at = 3 * this.bricksKnown;
      const place =
        (corners[at] >> TILE_BITS) +
        this.tilesX * ((corners[at + 1] >> TILE_BITS) + this.tilesY * (corners[at + 2] >> TILE_BITS));
      if (this.tileAt[place] < 0) {
        this.tileAt[place] = this.inboxes.length;
        this.inboxes.push([]);
      }
      this.tileOfBrick[this.bricksKnown] = this.tileAt[place];
    }
  }
}

function bucketOf(d2: number): number {
  return (Math.sqrt(d2) * BUCKETS_PER_CELL) | 0;
}
