import { type OrderedSurface, TRI_STRIDE } from './OrderedSurface.ts';

/**
 * How often the ray along an axis (0 x, 1 y, 2 z; towards greater values) from each point leaves S, less how often it enters:
 * on a surface closed all round, or standing open on the board below the points, that is its winding number there. Only what
 * the rays meet need be there of S.
 *
 * A point whose ray meets an edge or corner counts to one of the triangles there and no other: it is taken to lie a hair
 * farther along the next axis, and by a hair of that along the one after, and an edge is always judged in the direction of its
 * lower vertex number.
 *
 * @param points n x 3, mm.
 * O(triangles x log n + hits). Source: own; the rule for ties after Edelsbrunner and Muecke, Simulation of simplicity, 1990.
 */
export function crossingsAlong(axis: 0 | 1 | 2, surface: OrderedSurface, points: Float64Array): Int32Array {
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const n = points.length / 3;
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => points[3 * a + u] - points[3 * b + u]);
  const us = Float64Array.from(order, (i) => points[3 * i + u]);
  const counts = new Int32Array(n);
  const { positions: p, tris, triCount } = surface;
  for (let t = 0; t < triCount; t++) {
    const a = tris[t * TRI_STRIDE];
    const b = tris[t * TRI_STRIDE + 1];
    const c = tris[t * TRI_STRIDE + 2];
    const least = Math.min(p[a + u], p[b + u], p[c + u]);
    const most = Math.max(p[a + u], p[b + u], p[c + u]);
    if (most < us[0] || least > us[n - 1]) continue;
    let from = 0;
    let to = n;
    while (from < to) {
      const middle = (from + to) >> 1;
      if (us[middle] < least) from = middle + 1;
      else to = middle;
    }
    const low = Math.min(p[a + v], p[b + v], p[c + v]);
    const high = Math.max(p[a + v], p[b + v], p[c + v]);
    for (let at = from; at < n && us[at] <= most; at++) {
      const i = order[at];
      const second = points[3 * i + v];
      if (second < low || second > high) continue;
      counts[i] += crossing(axis, p, a, b, c, us[at], second, points[3 * i + axis]);
    }
  }
  return counts;
}

/**
 * +1 when the ray from a point leaves by the triangle, -1 when it enters, 0 when it misses. x, y, z here are the two axes
 * after the ray's own and that: seen so, every axis is the third.
 */
function crossing(
  axis: number,
  p: Float64Array,
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
  z: number,
): number {
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const ab = isLeft(p, u, v, a, b, x, y);
  if (isLeft(p, u, v, b, c, x, y) !== ab || isLeft(p, u, v, c, a, x, y) !== ab) return 0;
  const ux = p[b + u] - p[a + u];
  const uy = p[b + v] - p[a + v];
  const uz = p[b + axis] - p[a + axis];
  const vx = p[c + u] - p[a + u];
  const vy = p[c + v] - p[a + v];
  const vz = p[c + axis] - p[a + axis];
  const nz = ux * vy - uy * vx;
  if (nz === 0) return 0;
  const above =
    (p[a + axis] - z) * nz + ((p[a + u] - x) * (uy * vz - uz * vy) + (p[a + v] - y) * (uz * vx - ux * vz));
  if (above > 0 !== nz > 0) return 0;
  return nz > 0 ? 1 : -1;
}

/** Whether x y, on the axes u v and seen against the ray, lies to the left of the way from vertex a to b. */
function isLeft(p: Float64Array, u: number, v: number, a: number, b: number, x: number, y: number): boolean {
  const isTurned = a > b;
  const from = isTurned ? b : a;
  const to = isTurned ? a : b;
  const dx = p[to + u] - p[from + u];
  const dy = p[to + v] - p[from + v];
  const cross = dx * (y - p[from + v]) - dy * (x - p[from + u]);
  // On the line: moved a hair to greater x, then to greater y.
  const left = cross > 0 || (cross === 0 && (dy < 0 || (dy === 0 && dx > 0)));
  return left !== isTurned;
}
