import type { Vec3 } from '../mesh/TriMesh.ts';
import type { SurfaceContext } from './SurfaceContext.ts';
import { CROSSED, type CutSurface } from './types.ts';

/** The region in which the point of S nearest to `point` lies. */
export function regionAt(surface: SurfaceContext, cut: CutSurface, point: Vec3): number {
  const { tri, x, y, z } = surface.closestPoint(point);
  return cut.triRegion[tri] === CROSSED ? regionInCrossed(cut, tri, [x, y, z]) : cut.triRegion[tri];
}

/** The region of the part of a crossed triangle that a point lies in: the part whose smallest weight is largest. */
function regionInCrossed(cut: CutSurface, tri: number, point: Vec3): number {
  const { positions: p, indices } = cut;
  let region = 0;
  let best = -Infinity;
  for (let t = 0; t < cut.cutTriSource.length; t++) {
    if (cut.cutTriSource[t] !== tri) continue;
    const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
      const v = 3 * indices[3 * t + k];
      return [p[v], p[v + 1], p[v + 2]];
    });
    const normal = cross(minus(b, a), minus(c, a));
    const area2 = dot(normal, normal);
    if (area2 === 0) continue;
    const inside = Math.min(
      dot(cross(minus(b, a), minus(point, a)), normal),
      dot(cross(minus(c, b), minus(point, b)), normal),
      dot(cross(minus(a, c), minus(point, c)), normal),
    );
    if (inside / area2 > best) {
      best = inside / area2;
      region = cut.cutTriRegion[t];
    }
  }
  return region;
}

const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
