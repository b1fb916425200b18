import type { CutSegments } from '../parting/types.ts';

/** The point of a parting line nearest to a surface point, within the index's reach. */
export interface LineHit {
  segment: number;
  /** On the line. */
  readonly point: Float64Array;
  distanceMm: number;
}

export const newLineHit = (): LineHit => ({ segment: -1, point: new Float64Array(3), distanceMm: 0 });

/** Buckets a table slot at the least: open addressing stays short below half full. */
const SLOTS_PER_BUCKET = 2;

/** Longest part of a segment that is put in at once, in reaches. */
const PART_REACHES = 2;

/** Boxes over more buckets than this are not looked through: they may touch, which is never wrong to say. */
const MOST_BUCKETS = 4096;

/** What of segments is looked up. */
export type IndexedSegments = Pick<CutSegments, 'count' | 'ends' | 'path'>;

/**
 * Finds the line segment nearest to a point, if one lies within `reachMm`, by a hash of cubic buckets of that size. Of two that
 * are as near, as where lines meet, that of the earlier path wins, and on one path the later one: what another path's order
 * among all segments is does not matter.
 */
export class LineIndex {
  /** Open-addressing table: i j k of the bucket in each slot, and its list (0: the slot is free). */
  private slots = new Int32Array(4 * 64);
  private mask = 63;
  private bucketCount = 0;
  /** Lists of segments, linked: entry n holds segment and next entry; entry 0 ends a list. */
  private entries = new Int32Array(2 * 256);
  private entryCount = 1;
  private readonly part = new Float64Array(6);

  constructor(
    private readonly segments: IndexedSegments,
    readonly reachMm: number,
  ) {
    for (let s = 0; s < segments.count; s++) this.addParts(s);
  }

  /** A long slanted segment goes in by parts: its whole box would hold the cube of its length in buckets. */
  private addParts(s: number): void {
    const { segments, reachMm } = this;
    const { ends: whole } = segments;
    const w = 6 * s;
    const length = Math.hypot(
      whole[w + 3] - whole[w],
      whole[w + 4] - whole[w + 1],
      whole[w + 5] - whole[w + 2],
    );
    const parts = Math.max(1, Math.ceil(length / (PART_REACHES * reachMm)));
    const ends = this.part;
    for (let n = 0; n < parts; n++) {
      for (let k = 0; k < 3; k++) {
        const step = (whole[w + 3 + k] - whole[w + k]) / parts;
        ends[k] = whole[w + k] + n * step;
        ends[3 + k] = ends[k] + step;
      }
      const i1 = this.bucketOf(Math.max(ends[0], ends[3]) + reachMm);
      const j1 = this.bucketOf(Math.max(ends[1], ends[4]) + reachMm);
      const k1 = this.bucketOf(Math.max(ends[2], ends[5]) + reachMm);
      for (let k = this.bucketOf(Math.min(ends[2], ends[5]) - reachMm); k <= k1; k++) {
        for (let j = this.bucketOf(Math.min(ends[1], ends[4]) - reachMm); j <= j1; j++) {
          for (let i = this.bucketOf(Math.min(ends[0], ends[3]) - reachMm); i <= i1; i++) {
            this.addSegment(s, i, j, k);
          }
        }
      }
    }
  }

  /** True when some segment may lie within reach of a point of the box. Never false wrongly. */
  mayTouch(x0: number, y0: number, z0: number, x1: number, y1: number, z1: number): boolean {
    const i1 = this.bucketOf(x1);
    const j1 = this.bucketOf(y1);
    const k1 = this.bucketOf(z1);
    const i0 = this.bucketOf(x0);
    const j0 = this.bucketOf(y0);
    const k0 = this.bucketOf(z0);
    if ((i1 - i0 + 1) * (j1 - j0 + 1) * (k1 - k0 + 1) > MOST_BUCKETS) return true;
    for (let k = k0; k <= k1; k++) {
      for (let j = j0; j <= j1; j++) {
        for (let i = i0; i <= i1; i++) {
          if (this.slots[4 * this.findSlot(i, j, k) + 3] !== 0) return true;
        }
      }
    }
    return false;
  }

  /** Nearest segment within reach of x y z; false when none. */
  find(x: number, y: number, z: number, out: LineHit): boolean {
    const slot = this.findSlot(this.bucketOf(x), this.bucketOf(y), this.bucketOf(z));
    const { entries, segments } = this;
    const { ends } = segments;
    let best = this.reachMm * this.reachMm;
    out.segment = -1;
    for (let entry = this.slots[4 * slot + 3]; entry !== 0; entry = entries[2 * entry + 1]) {
      const s = entries[2 * entry];
      const e = 6 * s;
      const ax = ends[e];
      const ay = ends[e + 1];
      const az = ends[e + 2];
      const dx = ends[e + 3] - ax;
      const dy = ends[e + 4] - ay;
      const dz = ends[e + 5] - az;
      const length2 = dx * dx + dy * dy + dz * dz;
      const along = length2 > 0 ? ((x - ax) * dx + (y - ay) * dy + (z - az) * dz) / length2 : 0;
      const u = Math.min(1, Math.max(0, along));
      const px = ax + u * dx;
      const py = ay + u * dy;
      const pz = az + u * dz;
      const d2 = (x - px) * (x - px) + (y - py) * (y - py) + (z - pz) * (z - pz);
      if (d2 < best || (d2 === best && this.isFirst(s, out.segment))) {
        best = d2;
        out.segment = s;
        out.point[0] = px;
        out.point[1] = py;
        out.point[2] = pz;
      }
    }
    out.distanceMm = Math.sqrt(best);
    return out.segment >= 0;
  }

  /** Whether a segment goes before another that is as near; -1: none has been found. */
  private isFirst(s: number, other: number): boolean {
    if (other < 0) return false;
    const { path } = this.segments;
    return path[s] < path[other] || (path[s] === path[other] && s > other);
  }

  private bucketOf(x: number): number {
    return Math.floor(x / this.reachMm);
  }

  private addSegment(segment: number, i: number, j: number, k: number): void {
    let slot = this.findSlot(i, j, k);
    if (this.slots[4 * slot + 3] === 0) {
      if (++this.bucketCount * SLOTS_PER_BUCKET > this.mask) {
        this.growTable();
        slot = this.findSlot(i, j, k);
      }
      this.slots[4 * slot] = i;
      this.slots[4 * slot + 1] = j;
      this.slots[4 * slot + 2] = k;
    }
    if (2 * this.entryCount >= this.entries.length) {
      const grown = new Int32Array(this.entries.length * 2);
      grown.set(this.entries);
      this.entries = grown;
    }
    this.entries[2 * this.entryCount] = segment;
    this.entries[2 * this.entryCount + 1] = this.slots[4 * slot + 3];
    this.slots[4 * slot + 3] = this.entryCount++;
  }

  /** The bucket's slot, or the free one where it would stand. */
  private findSlot(i: number, j: number, k: number): number {
    const { slots, mask } = this;
    let slot = (Math.imul(i, 73856093) ^ Math.imul(j, 19349663) ^ Math.imul(k, 83492791)) & mask;
    while (
      slots[4 * slot + 3] !== 0 &&
      (slots[4 * slot] !== i || slots[4 * slot + 1] !== j || slots[4 * slot + 2] !== k)
    ) {
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  private growTable(): void {
    const old = this.slots;
    this.mask = 2 * this.mask + 1;
    this.slots = new Int32Array(4 * (this.mask + 1));
    for (let at = 0; at < old.length; at += 4) {
      if (old[at + 3] === 0) continue;
      const slot = this.findSlot(old[at], old[at + 1], old[at + 2]);
      this.slots.set(old.subarray(at, at + 4), 4 * slot);
    }
  }
}
