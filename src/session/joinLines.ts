import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { PartingLineResult } from '../core/PlanResult.ts';
import type { PartingLinePlan } from '../core/plan/PlanDocument.ts';

/** A control point this near to a line, as a share of the lines' box, lies on it. Far above what Float32 pictures round off. */
const ON_LINE_SHARE = 1e-3;
/** A bend of less than this where two runs meet needs no point of its own. */
const STRAIGHT_RAD = 0.02;
/** A line's direction at its end is taken over this share of its length, so that one short segment does not decide. */
const END_SHARE = 0.1;

/**
 * The lines that are left when two pieces become one: every run of line between other pieces, as ordinary lines with control
 * points. Runs that meet end to end become one line; where three meet, the straightest two do and the third ends on them.
 * A line always comes after those that its ends stand on, as the plan needs it.
 *
 * @param runs all runs of the present answer; their ends meet by exact equality.
 * @param drawn the lines as they lie now: their control points are kept where their line is.
 * @returns none when the two pieces were all there is.
 * Limits: three lines each of which ends on the next one, in a ring, cannot be put in order; they come in any.
 */
export function joinLines(
  runs: readonly PartingLineResult[],
  drawn: readonly PartingLinePlan[],
  between: readonly [string, string],
): PartingLinePlan[] {
  const kept = runs.filter(
    ({ between: [a, b], points }) =>
      points.length > 1 &&
      !((a === between[0] && b === between[1]) || (a === between[1] && b === between[0])),
  );
  const strings = stringTogether(kept.map((run) => run.points));
  const onLineMm = ON_LINE_SHARE * boxDiagonal(kept.flatMap((run) => run.points));
  const controls = drawn.flatMap((line) => line.points);
  return inOrder(strings).map((string, i) => ({
    id: `line-${i + 1}`,
    closed: string.closed,
    points: controlPointsOf(string, controls, onLineMm),
  }));
}

/** Runs in a row. `points` of a closed one repeat the first at the end; `joints` are places in `points` where runs meet. */
interface RunString {
  readonly points: readonly Vec3[];
  readonly joints: readonly number[];
  readonly closed: boolean;
}

/** An end of a run: its number times two, plus one for the last point. */
type RunEnd = number;

const keyOf = (p: Vec3): string => p.join();

function stringTogether(runs: readonly (readonly Vec3[])[]): RunString[] {
  const ends = new Map<string, RunEnd[]>();
  runs.forEach((points, i) => {
    for (const end of [2 * i, 2 * i + 1]) {
      const key = keyOf(end % 2 === 0 ? points[0] : points[points.length - 1]);
      ends.set(key, [...(ends.get(key) ?? []), end]);
    }
  });
  // Which end goes on with which, the straightest pair at each place first.
  const partner = new Map<RunEnd, RunEnd>();
  for (const here of ends.values()) {
    const pairs = here.flatMap((a, i) =>
      here.slice(i + 1).map((b) => ({ a, b, turn: dot(directionAt(runs, a), directionAt(runs, b)) })),
    );
    pairs.sort((x, y) => x.turn - y.turn || x.a - y.a || x.b - y.b);
    for (const { a, b } of pairs) {
      if (partner.has(a) || partner.has(b)) continue;
      partner.set(a, b);
      partner.set(b, a);
    }
  }
  const isUsed = new Set<number>();
  const strings: RunString[] = [];
  const follow = (entry: RunEnd): void => {
    const points: Vec3[] = [];
    const joints: number[] = [];
    let at: RunEnd | undefined = entry;
    while (at !== undefined && !isUsed.has(at >> 1)) {
      isUsed.add(at >> 1);
      const run = at % 2 === 0 ? runs[at >> 1] : runs[at >> 1].toReversed();
      if (points.length > 0) joints.push(points.length - 1);
      points.push(...(points.length > 0 ? run.slice(1) : run));
      at = partner.get(at ^ 1);
    }
    const closed = at !== undefined && keyOf(points[0]) === keyOf(points[points.length - 1]);
    if (closed) joints.push(0);
    strings.push({ points, joints, closed });
  };
  for (let end = 0; end < 2 * runs.length; end++) {
    if (!partner.has(end) && !isUsed.has(end >> 1)) follow(end);
  }
  for (let i = 0; i < runs.length; i++) if (!isUsed.has(i)) follow(2 * i);
  return strings;
}

/** Unit vector into the run from one of its ends. */
function directionAt(runs: readonly (readonly Vec3[])[], end: RunEnd): Vec3 {
  const points = end % 2 === 0 ? runs[end >> 1] : runs[end >> 1].toReversed();
  const reach = END_SHARE * lengthOf(points);
  let walked = 0;
  let i = 1;
  for (; i < points.length - 1; i++) {
    walked += distance(points[i - 1], points[i]);
    if (walked >= reach) break;
  }
  const length = distance(points[0], points[i]);
  const d = minus(points[i], points[0]);
  return length > 0 ? [d[0] / length, d[1] / length, d[2] / length] : [0, 0, 0];
}

/** Each after those on which its ends stand. */
function inOrder(strings: readonly RunString[]): RunString[] {
  const endsOf = (s: RunString): string[] =>
    s.closed ? [] : [keyOf(s.points[0]), keyOf(s.points[s.points.length - 1])];
  const through = strings.map((s) => new Set(s.joints.map((j) => keyOf(s.points[j]))));
  const left = new Set(strings.keys());
  const out: RunString[] = [];
  while (left.size > 0) {
    const isReady = (i: number): boolean =>
      endsOf(strings[i]).every((end) => ![...left].some((other) => other !== i && through[other].has(end)));
    const next = [...left].find(isReady) ?? [...left][0];
    left.delete(next);
    out.push(strings[next]);
  }
  return out;
}

function controlPointsOf(string: RunString, controls: readonly Vec3[], onLineMm: number): Vec3[] {
  const { points, closed, joints } = string;
  const total = lengthOf(points);
  const stops: { at: number; point: Vec3 }[] = [];
  if (!closed) stops.push({ at: 0, point: points[0] }, { at: total, point: points[points.length - 1] });
  const along = alongOf(points);
  for (const j of joints) {
    const before = j === 0 ? points[points.length - 2] : points[j - 1];
    if (turnAt(before, points[j], points[j + 1]) >= STRAIGHT_RAD) {
      stops.push({ at: along[j], point: points[j] });
    }
  }
  for (const control of controls) {
    const near = nearestOn(points, along, control);
    if (near.distanceMm <= onLineMm) stops.push({ at: near.at, point: near.point });
  }
  // Ends and joints were put in first, so that of points that all but coincide they are the ones that stay.
  const apart = stops.filter(({ at }, i) =>
    stops.slice(0, i).every((other) => gapOf(at, other.at, total, closed) > onLineMm),
  );
  const least = closed ? 3 : 2;
  for (let i = 0; apart.length < least; i++) {
    const at = ((i + 0.5) / least) * total;
    if (apart.every((other) => gapOf(at, other.at, total, closed) > onLineMm)) {
      apart.push({ at, point: pointAt(points, along, at) });
    } else if (i > 4 * least) break;
  }
  return apart.sort((a, b) => a.at - b.at).map(({ point }) => point);
}

function gapOf(a: number, b: number, total: number, closed: boolean): number {
  const gap = Math.abs(a - b);
  return closed ? Math.min(gap, total - gap) : gap;
}

/** Distance walked to each point. */
function alongOf(points: readonly Vec3[]): number[] {
  const along = [0];
  for (let i = 1; i < points.length; i++) along.push(along[i - 1] + distance(points[i - 1], points[i]));
  return along;
}

function nearestOn(
  points: readonly Vec3[],
  along: readonly number[],
  q: Vec3,
): { at: number; point: Vec3; distanceMm: number } {
  let best = { at: 0, point: points[0], distanceMm: Infinity };
  for (let i = 0; i + 1 < points.length; i++) {
    const d = minus(points[i + 1], points[i]);
    const len2 = dot(d, d);
    const s = len2 > 0 ? Math.min(1, Math.max(0, dot(minus(q, points[i]), d) / len2)) : 0;
    const point = between(points[i], points[i + 1], s);
    const distanceMm = distance(point, q);
    if (distanceMm < best.distanceMm) best = { at: along[i] + s * Math.sqrt(len2), point, distanceMm };
  }
  return best;
}

function pointAt(points: readonly Vec3[], along: readonly number[], at: number): Vec3 {
  let i = 0;
  while (i + 2 < points.length && along[i + 1] < at) i++;
  const step = along[i + 1] - along[i];
  return between(points[i], points[i + 1], step > 0 ? (at - along[i]) / step : 0);
}

function turnAt(a: Vec3, b: Vec3, c: Vec3): number {
  const u = minus(b, a);
  const v = minus(c, b);
  const cross = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
  return Math.atan2(cross, dot(u, v));
}

function boxDiagonal(points: readonly Vec3[]): number {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (const p of points) {
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], p[k]);
      high[k] = Math.max(high[k], p[k]);
    }
  }
  return points.length > 0 ? Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]) : 0;
}

function lengthOf(points: readonly Vec3[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distance(points[i - 1], points[i]);
  return sum;
}

const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const distance = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const between = (a: Vec3, b: Vec3, s: number): Vec3 => [
  a[0] + s * (b[0] - a[0]),
  a[1] + s * (b[1] - a[1]),
  a[2] + s * (b[2] - a[2]),
];
