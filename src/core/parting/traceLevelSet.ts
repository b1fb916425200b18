import type { SurfaceDiffusion } from './SurfaceDiffusion.ts';

/** A curve over the surface, x y z flat; the points on bridged holes are left out. */
export interface LevelCurve {
  readonly points: Float64Array;
  readonly closed: boolean;
  readonly lengthMm: number;
}

/** Crossings this near to a vertex, as a share of the edge, are moved off it, so that the curve has no needle-thin corners. */
const LEAST_SHARE = 0.02;

/**
 * The curves along which `values` (one a vertex, none zero) change their sign, within the triangles all of whose corners
 * are `allowed`. Open ones first, longest first in each kind. O(n).
 */
export function traceLevelSet(
  graph: SurfaceDiffusion,
  values: Float64Array,
  allowed: (vertex: number) => boolean,
): LevelCurve[] {
  const { tris, positions: p, realTriCount, count } = graph;
  // Each crossed triangle joins two crossed edges; an edge knows at most two triangles' other ends.
  const ends = new Map<number, { key: number; isReal: boolean }[]>();
  const link = (from: number, to: number, isReal: boolean): void => {
    const list = ends.get(from);
    if (list) list.push({ key: to, isReal });
    else ends.set(from, [{ key: to, isReal }]);
  };
  for (let t = 0; t < tris.length / 3; t++) {
    const a = tris[3 * t];
    const b = tris[3 * t + 1];
    const c = tris[3 * t + 2];
    const sa = values[a] > 0;
    const sb = values[b] > 0;
    const sc = values[c] > 0;
    if (sa === sb && sb === sc) continue;
    if (!(allowed(a) && allowed(b) && allowed(c))) continue;
    const [apex, left, right] = sb === sc ? [a, b, c] : sa === sc ? [b, c, a] : [c, a, b];
    const one = apex < left ? apex * count + left : left * count + apex;
    const two = apex < right ? apex * count + right : right * count + apex;
    link(one, two, t < realTriCount);
    link(two, one, t < realTriCount);
  }
  const curves: LevelCurve[] = [];
  const done = new Set<number>();
  const follow = (start: number): void => {
    const points: number[] = [];
    let lengthMm = 0;
    let previous = -1;
    let key = start;
    let closed = false;
    let last: readonly number[] | null = null;
    for (;;) {
      done.add(key);
      const around: readonly { key: number; isReal: boolean }[] = ends.get(key) ?? [];
      const a = Math.floor(key / count);
      const b = key % count;
      const raw = values[a] / (values[a] - values[b]);
      const s = Math.min(1 - LEAST_SHARE, Math.max(LEAST_SHARE, raw));
      const point = [0, 1, 2].map((k) => p[3 * a + k] + s * (p[3 * b + k] - p[3 * a + k]));
      if (last) lengthMm += Math.hypot(point[0] - last[0], point[1] - last[1], point[2] - last[2]);
      last = point;
      if (around.some((end) => end.isReal)) points.push(...point);
      const next = around.find((end) => end.key !== previous && !done.has(end.key));
      if (!next) {
        closed = around.length === 2 && around.some((end) => end.key === start) && previous !== start;
        break;
      }
      previous = key;
      key = next.key;
    }
    curves.push({ points: Float64Array.from(points), closed, lengthMm });
  };
  for (const [key, around] of ends) if (around.length === 1 && !done.has(key)) follow(key);
  for (const key of ends.keys()) if (!done.has(key)) follow(key);
  return curves.sort((m, n) => Number(m.closed) - Number(n.closed) || n.lengthMm - m.lengthMm);
}
