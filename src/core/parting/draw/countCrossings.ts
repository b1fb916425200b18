import { orient2d } from 'robust-predicates';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { SurfacePath } from '../types.ts';

/**
 * How often a path crosses other paths inside triangles. Meeting at a point, as where a line ends on another, does not
 * count. Exact predicates. O(segments of all).
 */
export function countCrossings(
  surface: SurfaceContext,
  path: SurfacePath,
  others: readonly SurfacePath[],
): number {
  const byTri = new Map<number, number[]>();
  for (let i = 0; i < path.segmentTris.length; i++) {
    const list = byTri.get(path.segmentTris[i]);
    if (list) list.push(i);
    else byTri.set(path.segmentTris[i], [i]);
  }
  let count = 0;
  for (const other of others) {
    for (let j = 0; j < other.segmentTris.length; j++) {
      for (const i of byTri.get(other.segmentTris[j]) ?? []) {
        if (segmentsCross(surface, path.segmentTris[i], path.points, i, other.points, j)) count++;
      }
    }
  }
  return count;
}

/**
 * True when segment i of points `a` and segment j of points `b`, both in triangle `tri`, cross properly. Seen along the axis in
 * which the triangle shows most, so that two coordinates are enough.
 */
export function segmentsCross(
  surface: SurfaceContext,
  tri: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
): boolean {
  const { positions: p, indices } = surface;
  const o = 3 * indices[3 * tri];
  const m = 3 * indices[3 * tri + 1];
  const n = 3 * indices[3 * tri + 2];
  const nx = Math.abs(
    (p[m + 1] - p[o + 1]) * (p[n + 2] - p[o + 2]) - (p[m + 2] - p[o + 2]) * (p[n + 1] - p[o + 1]),
  );
  const ny = Math.abs((p[m + 2] - p[o + 2]) * (p[n] - p[o]) - (p[m] - p[o]) * (p[n + 2] - p[o + 2]));
  const nz = Math.abs((p[m] - p[o]) * (p[n + 1] - p[o + 1]) - (p[m + 1] - p[o + 1]) * (p[n] - p[o]));
  const u = nx >= ny && nx >= nz ? 1 : 0;
  const v = nz >= nx && nz >= ny ? 1 : 2;
  const side = (q: Float64Array, s: number, r: Float64Array, k: number): number =>
    orient2d(q[3 * s + u], q[3 * s + v], q[3 * s + 3 + u], q[3 * s + 3 + v], r[3 * k + u], r[3 * k + v]);
  return side(a, i, b, j) * side(a, i, b, j + 1) < 0 && side(b, j, a, i) * side(b, j, a, i + 1) < 0;
}
