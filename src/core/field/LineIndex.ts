import type { CutSegments } from '../parting/types.ts';

/** The point of a parting line nearest to a surface point, within the index's reach. */
export interface LineHit {
  segment: number;
  /** On the line. */
  readonly point: Float64Array;
  distanceMm: number;
}

export const newLineHit = (): LineHit => ({ segment: -1, point: new Float64Array(3), distanceMm: 0 });

/** Finds the line segment nearest to a point, if one lies within `reachMm`, by a hash of cubic buckets. */
export class LineIndex {
  private readonly buckets = new Map<number, number[]>();

  constructor(
    private readonly segments: CutSegments,
    readonly reachMm: number,
  ) {
    const { ends } = segments;
    for (let s = 0; s < segments.count; s++) {
      const e = 6 * s;
      this.eachBucket(
        Math.min(ends[e], ends[e + 3]) - reachMm,
        Math.min(ends[e + 1], ends[e + 4]) - reachMm,
        Math.min(ends[e + 2], ends[e + 5]) - reachMm,
        Math.max(ends[e], ends[e + 3]) + reachMm,
        Math.max(ends[e + 1], ends[e + 4]) + reachMm,
        Math.max(ends[e + 2], ends[e + 5]) + reachMm,
        (key) => {
          const list = this.buckets.get(key);
          if (list) list.push(s);
          else this.buckets.set(key, [s]);
          return false;
        },
      );
    }
  }

  /** True when some segment may lie within reach of a point of the box. Never false wrongly. */
  mayTouch(x0: number, y0: number, z0: number, x1: number, y1: number, z1: number): boolean {
    return this.eachBucket(x0, y0, z0, x1, y1, z1, (key) => this.buckets.has(key));
  }

  /** Nearest segment within reach of x y z; false when none. */
  find(x: number, y: number, z: number, out: LineHit): boolean {
    const list = this.buckets.get(this.keyOf(x, y, z));
    if (!list) return false;
    const { ends } = this.segments;
    let best = this.reachMm * this.reachMm;
    out.segment = -1;
    for (const s of list) {
      const e = 6 * s;
      const ax = ends[e];
      const ay = ends[e + 1];
      const az = ends[e + 2];
      const dx = ends[e + 3] - ax;
      const dy = ends[e + 4] - ay;
      const dz = ends[e + 5] - az;
      const length2 = dx * dx + dy * dy + dz * dz;
      const u = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy + (z - az) * dz) / length2));
      const px = ax + u * dx;
      const py = ay + u * dy;
      const pz = az + u * dz;
      const d2 = (x - px) ** 2 + (y - py) ** 2 + (z - pz) ** 2;
      if (d2 < best) {
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

  private keyOf(x: number, y: number, z: number): number {
    const { reachMm } = this;
    return bucketKey(Math.floor(x / reachMm), Math.floor(y / reachMm), Math.floor(z / reachMm));
  }

  /** Calls `visit` for each bucket over a box until it answers true; answers whether it did. */
  private eachBucket(
    x0: number,
    y0: number,
    z0: number,
    x1: number,
    y1: number,
    z1: number,
    visit: (key: number) => boolean,
  ): boolean {
    const r = this.reachMm;
    for (let k = Math.floor(z0 / r); k <= Math.floor(z1 / r); k++) {
      for (let j = Math.floor(y0 / r); j <= Math.floor(y1 / r); j++) {
        for (let i = Math.floor(x0 / r); i <= Math.floor(x1 / r); i++) {
          if (visit(bucketKey(i, j, k))) return true;
        }
      }
    }
    return false;
  }
}

/** 17 bits an axis: 131 072 buckets either way are far beyond any mould at any resolution that fits in memory. */
function bucketKey(i: number, j: number, k: number): number {
  return ((i & 0x1ffff) * 0x20000 + (j & 0x1ffff)) * 0x20000 + (k & 0x1ffff);
}
