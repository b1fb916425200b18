import { PlanError } from '../../errors.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import { joinAlongSurface } from '../joinAlongSurface.ts';
import { layLeg } from '../layLeg.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { SurfacePath } from '../types.ts';
import { countCrossings } from './countCrossings.ts';

/** A line with fewer points has its legs halved first, or there is nothing that could bend evenly. A choice. */
const LEAST_POINTS = 12;
/**
 * Bending is evened out over this many of the distances between the drawn points: a zigzag from point to point keeps a fifth
 * of its height, a ring of twelve points loses two percent of its width. A choice.
 */
const LENGTH_SHARE = 0.7;
/** Passes at most; each lessens what is left by some five percent at the worst. */
const MOST_PASSES = 120;
/** It ends when no point shifts by more than this share of the mean distance between points. */
const STILL_SHARE = 1e-3;
/** Share of the largest step at which it cannot overshoot: that is 2 / (hold + 4), for the Laplacian's square is at most 4. */
const STEP = 0.5;
/** How much of the way to the smooth line is tried, the whole first: less where it would cross something. */
const SHARES = [1, 0.5, 0.25, 0.1] as const;

/**
 * Control points of a smoother line: the ends of an open line stay, a closed one has none. Points all lie on S.
 *
 * Each pass moves every point by a share of what lessens bending (the square of the Laplacian over the points) and of what
 * pulls it back to where it was drawn, and puts it on S again: project and relax, as T. Alderighi et al. (2019), "Volume-aware
 * design of composite molds", ACM TOG 38(4), do for membranes; the two terms are a smoothing spline's (C. Reinsch, 1967), which
 * keeps the line's course where plain averaging would shrink it to a straight one. Pressing again smooths further.
 *
 * A point never leaves its place by a leap to another sheet: a move that lands further off than it aimed is not made. Where the
 * smooth line would cross itself, or cross `others` more often than before, it goes only part of the way, or not at all.
 *
 * @param others lines laid already, without this one.
 * @throws PlanError 'bad-line' where the given points make no line.
 * Cost: passes x points nearest-point searches; some 50 ms for 12 points on 1 million triangles.
 */
export function smoothLine(
  surface: SurfaceContext,
  points: readonly Vec3[],
  closed: boolean,
  others: readonly SurfacePath[] = [],
): Vec3[] {
  const before = joinAlongSurface(surface, points, closed, others, 'kept');
  const drawn = refine(
    surface,
    points.map((point) => placeOn(surface, point)),
    closed,
  );
  const smooth = relax(surface, drawn, closed, (LENGTH_SHARE * drawn.length) / points.length);
  const crossings = countCrossings(surface, before, others);
  for (const share of SHARES) {
    const tried = drawn.map((d, i) =>
      placeOn(surface, [
        d[0] + share * (smooth[i][0] - d[0]),
        d[1] + share * (smooth[i][1] - d[1]),
        d[2] + share * (smooth[i][2] - d[2]),
      ]),
    );
    const path = layOrNull(surface, tried, closed, others);
    if (path !== null && countCrossings(surface, path, others) <= crossings) return tried;
  }
  return points.map((point) => placeOn(surface, point));
}

/** The points with the middles of their legs put between, until there are enough. */
function refine(surface: SurfaceContext, points: readonly Vec3[], closed: boolean): Vec3[] {
  let out = [...points];
  while (out.length < LEAST_POINTS) {
    const legs = closed ? out.length : out.length - 1;
    const next: Vec3[] = [];
    for (let i = 0; i < legs; i++) {
      const a = out[i];
      const b = out[(i + 1) % out.length];
      next.push(a, middleOf(surface, a, b));
    }
    if (!closed) next.push(out[out.length - 1]);
    out = next;
  }
  return out;
}

/** Half-way along the line between two points of S. */
function middleOf(surface: SurfaceContext, a: Vec3, b: Vec3): Vec3 {
  const q = layLeg(surface, surface.closestPoint(a), surface.closestPoint(b)).points;
  const stepAt = (i: number): number => Math.hypot(q[i] - q[i - 3], q[i + 1] - q[i - 2], q[i + 2] - q[i - 1]);
  let left = 0;
  for (let i = 3; i < q.length; i += 3) left += stepAt(i) / 2;
  for (let i = 3; i < q.length; i += 3) {
    const step = stepAt(i);
    if (step >= left && step > 0) {
      const s = left / step;
      return [
        q[i - 3] + s * (q[i] - q[i - 3]),
        q[i - 2] + s * (q[i + 1] - q[i - 2]),
        q[i - 1] + s * (q[i + 2] - q[i - 1]),
      ];
    }
    left -= step;
  }
  return b;
}

/** @param length over how many of the points' distances bending is evened out. */
function relax(surface: SurfaceContext, drawn: readonly Vec3[], closed: boolean, length: number): Vec3[] {
  const count = drawn.length;
  const hold = 1 / (4 * length ** 4);
  const step = (2 * STEP) / (hold + 4);
  const at = Float64Array.from(drawn.flat());
  const origin = at.slice();
  const bend = new Float64Array(at.length);
  const still = STILL_SHARE * meanStep(at, closed);
  const first = closed ? 0 : 1;
  const last = closed ? count - 1 : count - 2;
  const before = (i: number): number => 3 * ((i + count - 1) % count);
  const after = (i: number): number => 3 * ((i + 1) % count);
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    for (let i = first; i <= last; i++) writeBend(at, at, before(i), 3 * i, after(i), bend);
    let most = 0;
    for (let i = first; i <= last; i++) {
      const o = 3 * i;
      const aim: [number, number, number] = [0, 0, 0];
      let aim2 = 0;
      const b = before(i);
      const a = after(i);
      const share = shareOf(at, b, o, a);
      for (let k = 0; k < 3; k++) {
        const bending = (1 - share) * bend[b + k] + share * bend[a + k] - bend[o + k];
        const move = step * (hold * (origin[o + k] - at[o + k]) - bending);
        aim[k] = at[o + k] + move;
        aim2 += move * move;
      }
      const on = surface.closestPoint(aim);
      const shift = Math.hypot(on.x - at[o], on.y - at[o + 1], on.z - at[o + 2]);
      // The foot of the aim is never further from a point of S than the aim itself is, twice over, unless rounding.
      if (shift > 2 * Math.sqrt(aim2)) continue;
      at[o] = on.x;
      at[o + 1] = on.y;
      at[o + 2] = on.z;
      most = Math.max(most, shift);
    }
    if (most <= still * step) break;
  }
  return drawn.map((_, i): Vec3 => [at[3 * i], at[3 * i + 1], at[3 * i + 2]]);
}

/** Where between its neighbours a point should stand: the share of the way by the lengths of its two legs. */
function shareOf(at: Float64Array, b: number, o: number, a: number): number {
  const before = Math.hypot(at[o] - at[b], at[o + 1] - at[b + 1], at[o + 2] - at[b + 2]);
  const after = Math.hypot(at[a] - at[o], at[a + 1] - at[o + 1], at[a + 2] - at[o + 2]);
  return before + after > 0 ? before / (before + after) : 0.5;
}

function writeBend(
  values: Float64Array,
  at: Float64Array,
  b: number,
  o: number,
  a: number,
  out: Float64Array,
): void {
  const share = shareOf(at, b, o, a);
  for (let k = 0; k < 3; k++) {
    out[o + k] = (1 - share) * values[b + k] + share * values[a + k] - values[o + k];
  }
}

function meanStep(at: Float64Array, closed: boolean): number {
  const count = at.length / 3;
  const legs = closed ? count : count - 1;
  let sum = 0;
  for (let i = 0; i < legs; i++) {
    const a = 3 * i;
    const b = 3 * ((i + 1) % count);
    sum += Math.hypot(at[b] - at[a], at[b + 1] - at[a + 1], at[b + 2] - at[a + 2]);
  }
  return sum / legs;
}

function placeOn(surface: SurfaceContext, point: Vec3): Vec3 {
  const { x, y, z } = surface.closestPoint(point);
  return [x, y, z];
}

/** The line through the points; null where there is none, as when it would cross itself. */
function layOrNull(
  surface: SurfaceContext,
  points: readonly Vec3[],
  closed: boolean,
  others: readonly SurfacePath[],
): SurfacePath | null {
  try {
    return joinAlongSurface(surface, points, closed, others, 'kept');
  } catch (error) {
    if (error instanceof PlanError) return null;
    throw error;
  }
}
