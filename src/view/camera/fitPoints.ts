import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/** Points that the framing looks at; enough to find the outline to within a pixel or two. */
const FIT_POINTS = 1500;

/** Every so-many-th vertex (n x 3), so that framing costs the same for any scan. */
export function thinnedPoints(positions: Float32Array): Float32Array {
  const count = positions.length / 3;
  const step = Math.max(1, Math.floor(count / FIT_POINTS));
  const out = new Float32Array(3 * Math.ceil(count / step));
  for (let i = 0, at = 0; i < count; i += step, at++) {
    out.set(positions.subarray(3 * i, 3 * i + 3), 3 * at);
  }
  return out;
}

/** The points, once for each offset. */
export function offsetPoints(points: Float32Array, offsets: readonly Vec3[]): Float32Array {
  const out = new Float32Array(points.length * offsets.length);
  offsets.forEach((offset, n) => {
    for (let i = 0; i < points.length; i++) out[n * points.length + i] = points[i] + offset[i % 3];
  });
  return out;
}
