import type { Vec3 } from '../../mesh/TriMesh.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { PartingLinePlan } from '../../plan/PlanDocument.ts';
import type { PartingStep } from '../planParting.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { SurfacePath } from '../types.ts';
import type { FillerGrid } from './FillerGrid.ts';

/** Filler beside the wall is looked for this far from it, in cells: nearer, the rounded edge of the filler may be missed. */
const BESIDE_CELLS = 0.75;
/** Steps along a ruling, in cells. */
const STEP_CELLS = 0.5;
/** The rubber's normal is averaged along this much of the line to either side, in cells. */
const WINDOW_CELLS = 3;
/** A ruling ends where other rubber is nearer than its foot; noise of the normal is allowed this share and these cells. */
const NEARER_SHARE = 0.05;
const NEARER_CELLS = 0.25;
/** A ruling still filled this close to its end, in cells, is filled to the end: ends are found to about a cell. */
const END_CELLS = 1.5;
/**
 * A carried point is taken this much farther out than the filler was last seen, in cells: the nearest point of the new
 * surface is then the very edge of the filler, which belongs to both pieces, and not one on either side of it.
 */
const OVER_CELLS = 1;
/** Averaging a run with its neighbours this often takes out steps of a cell and moves a bend of ten cells by less than one. */
const SMOOTH_PASSES = 3;
/** Points lower than this on a board, in cells, stand on it: their ruling runs out flat. */
const ON_BOARD_CELLS = 0.5;

/** A path's point on its way to the new surface. */
interface Carried {
  /** Where it comes to stand; null when its ruling ends inside the filler, on the board or where other rubber is nearer. */
  readonly point: Vec3 | null;
  readonly isMoved: boolean;
}

/**
 * The parting lines on the surface of rubber and filler: where filler stands at the parting wall, the line goes out along
 * the wall's ruling (the rubber's normal at the line) to the outermost filler; elsewhere its own control points stay.
 * O(points of the paths x steps along a ruling), a few nearest-point queries a point.
 *
 * @param before the surface that the lines lie on. @param after the surface of the union. @param grids the filler.
 * @param thinCells moved points closer to the polyline of their neighbours than this, in cells, are left out.
 */
export function carryLines(
  before: SurfaceContext,
  after: SurfaceContext,
  parting: PartingStep,
  grids: readonly FillerGrid[],
  cellMm: number,
  thinCells: number,
): PartingLinePlan[] {
  return parting.lines.map((line, n) =>
    carryLine(before, after, line, parting.paths[n], grids, cellMm, thinCells),
  );
}

function carryLine(
  before: SurfaceContext,
  after: SurfaceContext,
  line: PartingLinePlan,
  path: SurfacePath,
  grids: readonly FillerGrid[],
  cellMm: number,
  thinCells: number,
): PartingLinePlan {
  const isKept = controlsOf(line, path);
  const dense = resample(path, isKept, cellMm);
  const ruler = new Ruler(before, grids, cellMm);
  const carried = dense.at.map((_, n): Carried => ruler.carry(dense, n));
  if (!carried.some((one) => one.isMoved || one.point === null)) return line;
  const kept: Vec3[] = [];
  for (let n = 0; n < carried.length; n++) {
    const { point, isMoved } = carried[n];
    if (point === null) continue;
    if (!isMoved) {
      const isNextMoved = (m: number): boolean => m >= 0 && m < carried.length && carried[m].isMoved;
      if (dense.isControl[n] || isNextMoved(n - 1) || isNextMoved(n + 1)) kept.push(point);
      continue;
    }
    // A run of moved points, thinned together.
    const run: Vec3[] = [];
    for (; n < carried.length && (carried[n].isMoved || carried[n].point === null); n++) {
      const moved = carried[n].point;
      if (moved !== null) run.push(moved);
    }
    n--;
    const laid = smoothRun(run, cellMm).map((moved): Vec3 => {
      const { x, y, z } = after.closestPoint(moved);
      return [x, y, z];
    });
    kept.push(...thinRun(laid, thinCells * cellMm));
  }
  // A closed path repeats its first point.
  const points =
    line.closed && kept.length > 1 && wayBetween(kept[0], kept[kept.length - 1]) < 1e-6
      ? kept.slice(0, -1)
      : kept;
  return { ...line, points };
}

/** By point of the path 1 where a control point of the line lies. */
function controlsOf(line: PartingLinePlan, path: SurfacePath): Uint8Array {
  const { points } = path;
  const count = points.length / 3;
  const isControl = new Uint8Array(count);
  isControl[0] = 1;
  isControl[count - 1] = 1;
  let from = 0;
  for (const [x, y, z] of line.points) {
    let best = from;
    let least = Infinity;
    for (let p = from; p < count; p++) {
      const d = Math.hypot(points[3 * p] - x, points[3 * p + 1] - y, points[3 * p + 2] - z);
      if (d >= least) continue;
      least = d;
      best = p;
    }
    isControl[best] = 1;
    from = best;
  }
  return isControl;
}

interface DensePath {
  /** Points at most a cell apart. */
  readonly at: readonly Vec3[];
  /** Triangle of the scan under each point. */
  readonly tri: readonly number[];
  readonly isControl: readonly boolean[];
}

function resample(path: SurfacePath, isControl: Uint8Array, stepMm: number): DensePath {
  const at: Vec3[] = [];
  const tri: number[] = [];
  const controls: boolean[] = [];
  const q = path.points;
  let since = Infinity;
  for (let s = 0; s < path.segmentTris.length; s++) {
    const a: Vec3 = [q[3 * s], q[3 * s + 1], q[3 * s + 2]];
    const b: Vec3 = [q[3 * s + 3], q[3 * s + 4], q[3 * s + 5]];
    const length = wayBetween(a, b);
    if (isControl[s] || since >= stepMm) {
      at.push(a);
      tri.push(path.segmentTris[s]);
      controls.push(isControl[s] === 1);
      since = 0;
    }
    const parts = Math.floor(length / stepMm);
    for (let n = 1; n <= parts; n++) {
      const share = n / (parts + 1);
      at.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])]);
      tri.push(path.segmentTris[s]);
      controls.push(false);
      since = 0;
    }
    since += length / (parts + 1);
  }
  const last = path.segmentTris.length;
  at.push([q[3 * last], q[3 * last + 1], q[3 * last + 2]]);
  tri.push(path.segmentTris[last - 1]);
  controls.push(true);
  return { at, tri, isControl: controls };
}

/** Carries points out along the rulings of the parting wall. */
class Ruler {
  private readonly scratch = new Float64Array(3);

  constructor(
    private readonly surface: SurfaceContext,
    private readonly grids: readonly FillerGrid[],
    private readonly cellMm: number,
  ) {}

  carry(dense: DensePath, n: number): Carried {
    const { surface, cellMm } = this;
    const foot = dense.at[n];
    const normal = this.normalAt(dense, n);
    const isOnBoard = surface.standsOnBoard && foot[2] < ON_BOARD_CELLS * cellMm;
    let [x, y, z] = normal;
    if (isOnBoard) {
      // At the board the rim itself is the nearest point, so that the wall goes on flat.
      const flat = Math.hypot(x, y);
      if (flat === 0) return { point: foot, isMoved: false };
      [x, y, z] = [x / flat, y / flat, 0];
    }
    const beside = this.besideAt(dense, n, [x, y, z]);
    const start: Vec3 = isOnBoard ? [foot[0], foot[1], ON_BOARD_CELLS * cellMm] : foot;
    const reachMm = this.reachOf(start, [x, y, z]);
    const toBoardMm = surface.standsOnBoard && z < 0 ? (foot[2] - ON_BOARD_CELLS * cellMm) / -z : Infinity;
    let outMm = 0;
    const step = STEP_CELLS * cellMm;
    const endMm = Math.min(reachMm, toBoardMm);
    for (let t = step; t <= endMm; t += step) {
      if (this.isFilled(start, [x, y, z], beside, t)) outMm = t;
    }
    if (outMm === 0) return { point: foot, isMoved: false };
    // Filled to its very end: the wall leaves the filler on another ruling.
    if (outMm > endMm - END_CELLS * cellMm) return { point: null, isMoved: false };
    const overMm = outMm + OVER_CELLS * cellMm;
    return { point: [foot[0] + overMm * x, foot[1] + overMm * y, foot[2] + overMm * z], isMoved: true };
  }

  private isFilled(foot: Vec3, n: Vec3, beside: Vec3, t: number): boolean {
    for (let side = -1; side <= 1; side += 2) {
      const away = side * BESIDE_CELLS * this.cellMm;
      const x = foot[0] + t * n[0] + away * beside[0];
      const y = foot[1] + t * n[1] + away * beside[1];
      const z = foot[2] + t * n[2] + away * beside[2];
      for (const grid of this.grids) if (grid.holds(x, y, z)) return true;
    }
    return false;
  }

  /** How far out the foot stays the nearest rubber, mm; at most the surface's diagonal. */
  private reachOf(foot: Vec3, n: Vec3): number {
    const { surface, cellMm } = this;
    const isNearest = (t: number): boolean => {
      const { x, y, z } = surface.closestPoint([foot[0] + t * n[0], foot[1] + t * n[1], foot[2] + t * n[2]]);
      const found = Math.hypot(foot[0] + t * n[0] - x, foot[1] + t * n[1] - y, foot[2] + t * n[2] - z);
      return found >= (1 - NEARER_SHARE) * t - NEARER_CELLS * cellMm;
    };
    let low = 0;
    let high = 2 * cellMm;
    while (isNearest(high)) {
      low = high;
      if (high >= surface.diagonalMm / 2) return high;
      high *= 2;
    }
    for (let n2 = 0; n2 < 5; n2++) {
      const middle = (low + high) / 2;
      if (isNearest(middle)) low = middle;
      else high = middle;
    }
    return low;
  }

  /** Unit normal of the rubber, averaged over the points within a window of the line. */
  private normalAt(dense: DensePath, n: number): Vec3 {
    const { surface, scratch, cellMm } = this;
    const sum = [0, 0, 0];
    const add = (m: number): void => {
      const length = writeTriNormal(surface.scan.mesh, dense.tri[m], scratch) || 1;
      for (let k = 0; k < 3; k++) sum[k] += scratch[k] / length;
    };
    add(n);
    for (const step of [-1, 1]) {
      for (let m = n + step; m >= 0 && m < dense.at.length; m += step) {
        if (wayBetween(dense.at[n], dense.at[m]) > WINDOW_CELLS * cellMm) break;
        add(m);
      }
    }
    const length = Math.hypot(sum[0], sum[1], sum[2]) || 1;
    return [sum[0] / length, sum[1] / length, sum[2] / length];
  }

  /** Unit vector square to the line and to its ruling. */
  private besideAt(dense: DensePath, n: number, normal: Vec3): Vec3 {
    const { at } = dense;
    let a = n;
    let b = n;
    while (wayBetween(at[a], at[b]) < this.cellMm && (a > 0 || b < at.length - 1)) {
      if (a > 0) a--;
      if (b < at.length - 1) b++;
    }
    const t = [at[b][0] - at[a][0], at[b][1] - at[a][1], at[b][2] - at[a][2]];
    const x = t[1] * normal[2] - t[2] * normal[1];
    const y = t[2] * normal[0] - t[0] * normal[2];
    const z = t[0] * normal[1] - t[1] * normal[0];
    const length = Math.hypot(x, y, z) || 1;
    return [x / length, y / length, z / length];
  }
}

/**
 * A run without what the cells and the scan's noise made of it: points nearer than a cell to the one before and points
 * where it turns back on itself are left out, the rest is averaged with its neighbours.
 */
function smoothRun(run: readonly Vec3[], cellMm: number): Vec3[] {
  const kept: Vec3[] = [];
  for (const point of run) {
    while (kept.length > 1) {
      const [a, b] = kept.slice(-2);
      const turn =
        (b[0] - a[0]) * (point[0] - b[0]) +
        (b[1] - a[1]) * (point[1] - b[1]) +
        (b[2] - a[2]) * (point[2] - b[2]);
      if (turn >= 0) break;
      kept.pop();
    }
    if (kept.length === 0 || wayBetween(kept[kept.length - 1], point) >= cellMm) kept.push(point);
  }
  let smooth = kept;
  for (let pass = 0; pass < SMOOTH_PASSES; pass++) {
    const before = smooth;
    smooth = before.map((point, n): Vec3 => {
      if (n === 0 || n === before.length - 1) return point;
      const [a, b] = [before[n - 1], before[n + 1]];
      return [
        (a[0] + 2 * point[0] + b[0]) / 4,
        (a[1] + 2 * point[1] + b[1]) / 4,
        (a[2] + 2 * point[2] + b[2]) / 4,
      ];
    });
  }
  return smooth;
}

/** Fewer points of a run, none of those left out farther than `leastMm` from the polyline of the others: Douglas & Peucker, 1973. */
function thinRun(run: readonly Vec3[], leastMm: number): Vec3[] {
  if (run.length < 3) return [...run];
  const keep = new Uint8Array(run.length);
  keep[0] = 1;
  keep[run.length - 1] = 1;
  const spans: [number, number][] = [[0, run.length - 1]];
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [a, b] = span;
    let worst = -1;
    let away = leastMm;
    for (let n = a + 1; n < b; n++) {
      const d = wayToSegment(run[n], run[a], run[b]);
      if (d <= away) continue;
      away = d;
      worst = n;
    }
    if (worst < 0) continue;
    keep[worst] = 1;
    spans.push([a, worst], [worst, b]);
  }
  return run.filter((_, n) => keep[n] === 1);
}

function wayToSegment(p: Vec3, a: Vec3, b: Vec3): number {
  const d = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const length2 = d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
  const dot = (p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1] + (p[2] - a[2]) * d[2];
  const s = length2 > 0 ? Math.min(1, Math.max(0, dot / length2)) : 0;
  return Math.hypot(p[0] - a[0] - s * d[0], p[1] - a[1] - s * d[1], p[2] - a[2] - s * d[2]);
}

const wayBetween = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
