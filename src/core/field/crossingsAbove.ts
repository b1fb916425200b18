import { type OrderedSurface, TRI_STRIDE } from './OrderedSurface.ts';

/**
 * How often the ray straight up from each point leaves S, less how often it enters: on a surface closed all round, or
 * standing open on the board below the points, that is its winding number there.
 *
 * A point exactly under an edge or corner counts to one of the triangles there and no other: it is taken to lie a hair
 * farther in x, and by a hair of that in y, and an edge is always judged in the direction of its lower vertex number.
 *
 * @param points n x 3, mm.
 * O(triangles x log n + hits). Source: own; the rule for ties after Edelsbrunner and Muecke, Simulation of simplicity, 1990.
 */
export function crossingsAbove(surface: OrderedSurface, points: Float64Array): Int32Array {
  const n = points.length / 3;
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => points[3 * a] - points[3 * b]);
  const xs = Float64Array.from(order, (i) => points[3 * i]);
  const counts = new Int32Array(n);
  const { positions: p, tris, triCount } = surface;
  for (let t = 0; t < triCount; t++) {
    const a = tris[t * TRI_STRIDE];
    const b = tris[t * TRI_STRIDE + 1];
    const c = tris[t * TRI_STRIDE + 2];
    const least = Math.min(p[a], p[b], p[c]);
    const most = Math.max(p[a], p[b], p[c]);
    if (most < xs[0] || least > xs[n - 1]) continue;
    let from = 0;
    let to = n;
    while (from < to) {
      const middle = (from + to) >> 1;
      if (xs[middle] < least) from = middle + 1;
      else to = middle;
    }
    for (let at = from; at < n && xs[at] <= most; at++) {
      const i = order[at];
      const y = points[3 * i + 1];
      if (y < Math.min(p[a + 1], p[b + 1], p[c + 1]) || y > Math.max(p[a + 1], p[b + 1], p[c + 1])) continue;
      counts[i] += crossing(p, a, b, c, xs[at], y, points[3 * i + 2]);
    }
  }
  return counts;
}

/** +1 when the ray up from x y z leaves by the triangle, -1 when it enters, 0 when it misses. */
function crossing(p: Float64Array, a: number, b: number, c: number, x: number, y: number, z: number): number {
  const ab = isLeft(p, a, b, x, y);
  if (isLeft(p, b, c, x, y) !== ab || isLeft(p, c, a, x, y) !== ab) return 0;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nz = ux * vy - uy * vx;
  if (nz === 0) return 0;
  const above =
    (p[a + 2] - z) * nz + ((p[a] - x) * (uy * vz - uz * vy) + (p[a + 1] - y) * (uz * vx - ux * vz));
  if (above > 0 !== nz > 0) return 0;
  return nz > 0 ? 1 : -1;
}

/** Whether x y, seen from above, lies to the left of the way from vertex a to b. */
function isLeft(p: Float64Array, a: number, b: number, x: number, y: number): boolean {
  const isTurned = a > b;
  const from = isTurned ? b : a;
  const to = isTurned ? a : b;
  const dx = p[to] - p[from];
  const dy = p[to + 1] - p[from + 1];
  const cross = dx * (y - p[from + 1]) - dy * (x - p[from]);
  // On the line: moved a hair to greater x, then to greater y.
  const left = cross > 0 || (cross === 0 && (dy < 0 || (dy === 0 && dx > 0)));
  return left !== isTurned;
}
