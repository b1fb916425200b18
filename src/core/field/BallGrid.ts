import { vectorLength } from '../mesh/vectorLength.ts';
import type { AreaBall } from '../plan/ballsOf.ts';

/** A large ball covers at most about so many buckets along an edge. Own choice: memory against length of the lists. */
const MOST_BUCKETS_ACROSS = 16;
/** A box over more buckets than this is answered with every ball. */
const MOST_BUCKETS_ASKED = 512;
const NO_BALLS: readonly number[] = [];

/**
 * Many overlapping balls, as a brush leaves them, asked for near a place: a hash of cubes, each listing the balls that come
 * within `marginMm` of it. Board frame, mm. Cost: a question reads the list of one cube, whose length does not grow with
 * the length of the stroke.
 */
export class BallGrid {
  /** By the latest `reachInto`: the ball that reaches farthest; -1 when none is near. */
  deepest = -1;
  private readonly buckets = new Map<number, number[]>();
  private readonly edgeMm: number;
  private readonly all: readonly number[];

  constructor(
    readonly balls: readonly AreaBall[],
    private readonly marginMm = 0,
  ) {
    this.all = balls.map((_, n) => n);
    const reaches = balls.map((ball) => ball.radiusMm + marginMm);
    this.edgeMm = Math.max(Math.min(...reaches), (2 * Math.max(...reaches)) / MOST_BUCKETS_ACROSS);
    balls.forEach(({ centreMm: [x, y, z] }, n) => {
      const r = reaches[n];
      this.eachBucket(x - r, y - r, z - r, x + r, y + r, z + r, (key) => {
        const list = this.buckets.get(key);
        if (list) list.push(n);
        else this.buckets.set(key, [n]);
      });
    });
  }

  get isEmpty(): boolean {
    return this.balls.length === 0;
  }

  /**
   * How far a point lies inside the union, mm: the most that any ball reaches beyond it, negative outside. -Infinity where
   * no ball comes within the margin. Inside an overlap it is a lower bound of the depth; its sign is exact everywhere.
   */
  reachInto(x: number, y: number, z: number): number {
    const { balls, edgeMm } = this;
    const key = keyOf(Math.floor(x / edgeMm), Math.floor(y / edgeMm), Math.floor(z / edgeMm));
    const list = this.buckets.get(key);
    let most = -Infinity;
    this.deepest = -1;
    if (list === undefined) return most;
    for (const n of list) {
      const { centreMm, radiusMm } = balls[n];
      const reach = radiusMm - vectorLength(x - centreMm[0], y - centreMm[1], z - centreMm[2]);
      if (reach > most && reach > -this.marginMm) {
        most = reach;
        this.deepest = n;
      }
    }
    return most;
  }

  /** Numbers of the balls that come within the margin of a box, each once, and maybe of some that do not quite. */
  near(x0: number, y0: number, z0: number, x1: number, y1: number, z1: number): readonly number[] {
    if (this.isEmpty) return NO_BALLS;
    const { edgeMm } = this;
    const across = (low: number, high: number) => Math.floor(high / edgeMm) - Math.floor(low / edgeMm) + 1;
    if (across(x0, x1) * across(y0, y1) * across(z0, z1) > MOST_BUCKETS_ASKED) return this.all;
    let found: number[] | undefined;
    this.eachBucket(x0, y0, z0, x1, y1, z1, (key) => {
      const list = this.buckets.get(key);
      if (list !== undefined) found = found === undefined ? list.slice() : found.concat(list);
    });
    return found === undefined ? NO_BALLS : [...new Set(found)];
  }

  private eachBucket(
    x0: number,
    y0: number,
    z0: number,
    x1: number,
    y1: number,
    z1: number,
    visit: (key: number) => void,
  ): void {
    const s = this.edgeMm;
    for (let k = Math.floor(z0 / s); k <= Math.floor(z1 / s); k++) {
      for (let j = Math.floor(y0 / s); j <= Math.floor(y1 / s); j++) {
        for (let i = Math.floor(x0 / s); i <= Math.floor(x1 / s); i++) visit(keyOf(i, j, k));
      }
    }
  }
}

/** 17 bits an axis: places that share a key by wrapping round only lengthen a list, since every ball of it is measured. */
function keyOf(i: number, j: number, k: number): number {
  return ((i & 0x1ffff) * 0x20000 + (j & 0x1ffff)) * 0x20000 + (k & 0x1ffff);
}
