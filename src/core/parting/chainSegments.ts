import type { CutSegments } from './types.ts';

/** A run of parting line between the same two regions, along one drawn path. */
export interface LineChain {
  readonly path: number;
  readonly left: number;
  readonly right: number;
  /** n x 3, mm; a closed chain repeats its first point. */
  readonly points: Float64Array;
  /** n - 1: segment of the cut, and with it its triangle, between successive points. */
  readonly segments: Int32Array;
  readonly isClosed: boolean;
  readonly lengthMm: number;
}

/**
 * The separating segments strung together, in the sense from -> to, as long as path and both regions stay the same.
 * Ends meet by exact equality: neighbours come from the same cut point. O(n).
 */
export function chainSegments(segments: CutSegments): LineChain[] {
  const { count, ends } = segments;
  const startsAt = new Map<string, number[]>();
  const endsAt = new Map<string, number>();
  for (let s = 0; s < count; s++) {
    const key = endKey(segments, s, 0);
    const list = startsAt.get(key);
    if (list) list.push(s);
    else startsAt.set(key, [s]);
    endsAt.set(endKey(segments, s, 3), s);
  }
  const isUsed = new Uint8Array(count);
  const chains: LineChain[] = [];
  const follow = (first: number): void => {
    const run: number[] = [];
    let at = first;
    while (at >= 0 && isUsed[at] === 0) {
      isUsed[at] = 1;
      run.push(at);
      at =
        (startsAt.get(endKey(segments, at, 3)) ?? []).find(
          (s) => isUsed[s] === 0 && isSameLine(segments, s, first),
        ) ?? -1;
    }
    chains.push(makeChain(segments, run, ends));
  };
  // Runs with a beginning first; what is left then are closed ones.
  for (let s = 0; s < count; s++) {
    const before = endsAt.get(endKey(segments, s, 0));
    if (before === undefined || !isSameLine(segments, before, s)) follow(s);
  }
  for (let s = 0; s < count; s++) if (isUsed[s] === 0) follow(s);
  return chains.filter((chain) => chain.segments.length > 0);
}

function endKey(segments: CutSegments, s: number, at: 0 | 3): string {
  const e = 6 * s + at;
  return `${segments.ends[e]},${segments.ends[e + 1]},${segments.ends[e + 2]}`;
}

function isSameLine(segments: CutSegments, a: number, b: number): boolean {
  return (
    segments.path[a] === segments.path[b] &&
    segments.left[a] === segments.left[b] &&
    segments.right[a] === segments.right[b]
  );
}

function makeChain(segments: CutSegments, run: readonly number[], ends: Float64Array): LineChain {
  const points = new Float64Array(3 * (run.length + 1));
  let lengthMm = 0;
  run.forEach((s, n) => {
    const e = 6 * s;
    if (n === 0) points.set(ends.subarray(e, e + 3));
    points.set(ends.subarray(e + 3, e + 6), 3 * (n + 1));
    lengthMm += Math.hypot(ends[e + 3] - ends[e], ends[e + 4] - ends[e + 1], ends[e + 5] - ends[e + 2]);
  });
  const last = 3 * run.length;
  return {
    path: segments.path[run[0]],
    left: segments.left[run[0]],
    right: segments.right[run[0]],
    points,
    segments: Int32Array.from(run),
    isClosed: points[0] === points[last] && points[1] === points[last + 1] && points[2] === points[last + 2],
    lengthMm,
  };
}
