import { newHeightMap, raiseHeights } from './castHeights.ts';
import type { HeightMap } from './HeightMap.ts';
import type { PullColumns } from './PullColumns.ts';
import type { ProjectedVerts } from './projectVerts.ts';

/** Pixels across the body: with 512 the depth of a picture is good to a 700th of the body's width. */
const PIXELS_ACROSS = 512;

/** A column that rises above the asked height by less than this share of the body's size is clear. */
const CLEAR_SHARE = 1e-6;

/** A depth is looked for again with rays on a grid of this many steps to the depth, then along the way found. */
const STEPS_TO_DEPTH = 64;

/** Halvings along a way: 2^-24 of its length is left. */
const HALVINGS = 24;

/** Turns of the way by which the shortest is found: each about 0.62 of the step before (golden section). */
const TURNS = 16;

/** A depth by rays. */
export interface FoundDepth {
  /** Length of a shift after which the ray is clear: proven by that ray, so never too small. */
  readonly depthMm: number;
  /** By how much less could do at most, unless a clear place is narrower than this. */
  readonly errorMm: number;
}

/**
 * How far a point has to be shifted, square to the pull, until the way along the pull is clear: of rubber whether
 * it is met from outside or inside, and of the board.
 *
 * The nearest clear pixel of a height map, by a pyramid of the lowest heights; then, where it matters, by rays.
 */
export class DepthSearch {
  readonly pixelMm: number;
  private readonly clearMm: number;
  private readonly map: HeightMap;
  /** Level l holds the least height over 2^l x 2^l pixels; level 0 is the map itself. */
  private readonly levels: Level[];
  // Scratch of one question.
  private u = 0;
  private v = 0;
  private limit = 0;
  private best2 = Infinity;
  private bestI = -1;
  private bestJ = -1;

  /** @param overBoard whether the board at z = 0 stands in the way; never when the pull goes down into it. */
  constructor(
    verts: ProjectedVerts,
    indices: Uint32Array,
    private readonly columns: PullColumns,
    diagonalMm: number,
    private readonly overBoard: boolean,
  ) {
    const { extent } = columns;
    const span = Math.max(extent.uMax - extent.uMin, extent.vMax - extent.vMin);
    this.pixelMm = span / PIXELS_ACROSS;
    this.clearMm = CLEAR_SHARE * diagonalMm;
    // Two pixels round the body, so that the way past it lies within the map.
    const margin = 2 * this.pixelMm;
    this.map = newHeightMap(
      verts.frame,
      {
        uMin: extent.uMin - margin,
        vMin: extent.vMin - margin,
        uMax: extent.uMax + margin,
        vMax: extent.vMax + margin,
      },
      this.pixelMm,
    );
    if (overBoard) this.raiseToBoard();
    raiseHeights(this.map, verts, indices);
    this.levels = [{ least: this.map.top, width: this.map.width, height: this.map.height }];
    for (
      let last = this.levels[0];
      last.width > 1 || last.height > 1;
      last = this.levels[this.levels.length - 1]
    ) {
      this.levels.push(halve(last));
    }
  }

  /** Shift from u, v at height h to the middle of the nearest clear pixel, mm; Infinity when there is none. */
  nearestClear(u: number, v: number, h: number): number {
    this.u = (u - this.map.uMin) / this.pixelMm;
    this.v = (v - this.map.vMin) / this.pixelMm;
    this.limit = h + this.clearMm;
    this.best2 = Infinity;
    this.bestI = -1;
    this.search(this.levels.length - 1, 0, 0);
    return Math.sqrt(this.best2) * this.pixelMm;
  }

  /** The same for a picture: 0 within half a pixel of a clear one. */
  depthToLookAt(u: number, v: number, h: number): number {
    const far = this.nearestClear(u, v, h);
    return far === Infinity ? 0 : Math.max(0, far - this.pixelMm / 2);
  }

  /** The shift by rays. Null when nothing is clear. About 2 ms. */
  refine(u: number, v: number, h: number): FoundDepth | null {
    if (this.isClear(u, v, h)) return { depthMm: 0, errorMm: 0 };
    const first = this.nearestClear(u, v, h);
    if (first === Infinity) return null;
    // A grid of rays round the point, out to the way that is known: its pixel's middle is clear.
    let du = this.map.uMin + (this.bestI + 0.5) * this.pixelMm - u;
    let dv = this.map.vMin + (this.bestJ + 0.5) * this.pixelMm - v;
    let least = first;
    const step = first / STEPS_TO_DEPTH;
    for (let j = -STEPS_TO_DEPTH; j <= STEPS_TO_DEPTH; j++) {
      for (let i = -STEPS_TO_DEPTH; i <= STEPS_TO_DEPTH; i++) {
        const way = step * Math.hypot(i, j);
        if (way >= least || !this.isClear(u + i * step, v + j * step, h)) continue;
        least = way;
        du = i * step;
        dv = j * step;
      }
    }
    // The edge of the shadow on that way, then on ways turned a little to both sides.
    const at = Math.atan2(dv, du);
    const edge = (angle: number): number => this.edgeAlong(u, v, h, angle, least, step);
    let width = Math.min(1, (1.5 * step) / Math.max(least, step));
    let angle = at;
    let depth = edge(at);
    for (let n = 0; n < TURNS; n++) {
      const left = edge(angle - width);
      const right = edge(angle + width);
      if (left < depth && left <= right) {
        depth = left;
        angle -= width;
      } else if (right < depth) {
        depth = right;
        angle += width;
      } else width *= 0.62;
    }
    return { depthMm: depth, errorMm: Math.min(depth, step) };
  }

  /** The shortest clear way at this angle, found from beyond; Infinity when it is not clear at `least` and a step more. */
  private edgeAlong(u: number, v: number, h: number, angle: number, least: number, step: number): number {
    const du = Math.cos(angle);
    const dv = Math.sin(angle);
    let clear = least;
    if (!this.isClear(u + clear * du, v + clear * dv, h)) {
      clear += step;
      if (!this.isClear(u + clear * du, v + clear * dv, h)) return Infinity;
    }
    let blocked = Math.max(0, clear - 2.5 * step);
    if (this.isClear(u + blocked * du, v + blocked * dv, h)) blocked = 0;
    for (let n = 0; n < HALVINGS; n++) {
      const middle = (blocked + clear) / 2;
      if (this.isClear(u + middle * du, v + middle * dv, h)) clear = middle;
      else blocked = middle;
    }
    return clear;
  }

  private isClear(u: number, v: number, h: number): boolean {
    return h + this.clearMm >= this.boardAt(v) && this.columns.isClear(u, v, h + this.clearMm);
  }

  /** Height along the pull from which points at v are above the board. u lies level, so it does not matter. */
  private boardAt(v: number): number {
    if (!this.overBoard) return -Infinity;
    const { d, v: axis } = this.map.frame;
    const z = v * axis[2];
    if (d[2] > 1e-9) return -z / d[2];
    return z < -this.clearMm ? Infinity : -Infinity;
  }

  private raiseToBoard(): void {
    const { top, width, height, vMin, pixelMm } = this.map;
    for (let j = 0; j < height; j++) {
      top.fill(this.boardAt(vMin + (j + 0.5) * pixelMm), j * width, (j + 1) * width);
    }
  }

  /** Goes down the pyramid from cell i, j of a level, nearer children first, past all that is blocked or too far. */
  private search(level: number, i: number, j: number): void {
    const { least, width } = this.levels[level];
    if (least[j * width + i] > this.limit) return;
    if (level === 0) {
      const du = i + 0.5 - this.u;
      const dv = j + 0.5 - this.v;
      const far2 = du * du + dv * dv;
      if (far2 < this.best2) {
        this.best2 = far2;
        this.bestI = i;
        this.bestJ = j;
      }
      return;
    }
    const size = 2 ** level;
    if (this.far2(i * size, j * size, size) >= this.best2) return;
    const half = size / 2;
    const below = this.levels[level - 1];
    const firstI = this.u > i * size + half ? 1 : 0;
    const firstJ = this.v > j * size + half ? 1 : 0;
    for (let n = 0; n < 4; n++) {
      const ci = 2 * i + ((n & 1) ^ firstI);
      const cj = 2 * j + ((n >> 1) ^ firstJ);
      if (ci < below.width && cj < below.height) this.search(level - 1, ci, cj);
    }
  }

  /** Square of the distance to the nearest pixel middle that the square could hold, in pixels. */
  private far2(i: number, j: number, size: number): number {
    const du = Math.max(0, i + 0.5 - this.u, this.u - (i + size - 0.5));
    const dv = Math.max(0, j + 0.5 - this.v, this.v - (j + size - 0.5));
    return du * du + dv * dv;
  }
}

interface Level {
  readonly least: Float32Array;
  readonly width: number;
  readonly height: number;
}

function halve(level: Level): Level {
  const width = (level.width + 1) >> 1;
  const height = (level.height + 1) >> 1;
  const least = new Float32Array(width * height).fill(Infinity);
  for (let j = 0; j < level.height; j++) {
    for (let i = 0; i < level.width; i++) {
      const at = (j >> 1) * width + (i >> 1);
      const value = level.least[j * level.width + i];
      if (value < least[at]) least[at] = value;
    }
  }
  return { least, width, height };
}
