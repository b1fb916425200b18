import fc from 'fast-check';
import { expect, test } from 'vitest';
import { closestOnTriangle } from '../../../src/core/field/closestOnTriangle.ts';
import { newClosestPoint, SurfaceTree } from '../../../src/core/spatial/SurfaceTree.ts';

test('agrees with three-mesh-bvh on random triangles and points', () => {
  const x = fc.double({ min: -10, max: 10, noNaN: true });
  const point = fc.tuple(x, x, x);
  fc.assert(
    fc.property(point, point, point, point, (a, b, c, p) => {
      const positions = Float64Array.from([...a, ...b, ...c]);
      const indices = Uint32Array.of(0, 1, 2);
      const area = Math.hypot(
        (b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1]),
        (b[2] - a[2]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[2] - a[2]),
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]),
      );
      // Slivers are the library's weak spot, not the subject here.
      if (area < 1e-3) return;
      const out = new Float64Array(4);
      closestOnTriangle(positions, indices, 0, p[0], p[1], p[2], out);
      const hit = newClosestPoint();
      new SurfaceTree({ positions, indices }).closestPoint(p[0], p[1], p[2], hit);
      expect(Math.sqrt(out[3])).toBeCloseTo(hit.distance, 6);
      expect(Math.hypot(out[0] - p[0], out[1] - p[1], out[2] - p[2])).toBeCloseTo(Math.sqrt(out[3]), 9);
    }),
    { seed: 21, numRuns: 400 },
  );
});

test('a triangle without area still gives its nearest point, never NaN', () => {
  const out = new Float64Array(4);
  closestOnTriangle(Float64Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0), Uint32Array.of(0, 1, 2), 0, 1.5, 3, 0, out);
  expect(out[0]).toBeCloseTo(1.5, 12);
  expect(Math.sqrt(out[3])).toBeCloseTo(3, 12);
});
