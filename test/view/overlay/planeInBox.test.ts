import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { meanOf, planeInBox } from '../../../src/view/overlay/planeInBox.ts';

const BOX = { min: [-1, -2, 0] as Vec3, max: [1, 2, 6] as Vec3 };

/** Area by the sum of cross products, and its direction: own arithmetic. */
function areaOf(ring: readonly Vec3[]): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    sum[0] += (a[1] * b[2] - a[2] * b[1]) / 2;
    sum[1] += (a[2] * b[0] - a[0] * b[2]) / 2;
    sum[2] += (a[0] * b[1] - a[1] * b[0]) / 2;
  });
  return sum;
}

describe('planeInBox', () => {
  test('a level plane gives the footprint, counter-clockwise about its normal', () => {
    for (const z of [1, -1] as const) {
      const ring = planeInBox({ normal: [0, 0, z], offsetMm: z * 2.5 }, BOX);
      expect(ring).toHaveLength(4);
      for (const p of ring) expect(p[2]).toBeCloseTo(2.5, 12);
      expect(areaOf(ring)[2]).toBeCloseTo(z * 2 * 4, 12);
    }
  });

  test('square to the diagonal of a cube through its middle it is the regular hexagon of area 3 sqrt 3 / 4 s2', () => {
    const n = 1 / Math.sqrt(3);
    const cube = { min: [0, 0, 0] as Vec3, max: [2, 2, 2] as Vec3 };
    const ring = planeInBox({ normal: [n, n, n], offsetMm: 3 * n }, cube);
    expect(ring).toHaveLength(6);
    expect(Math.hypot(...areaOf(ring))).toBeCloseTo(((3 * Math.sqrt(3)) / 4) * 4, 12);
    for (const x of meanOf(ring)) expect(x).toBeCloseTo(1, 12);
  });

  test('a plane that passes the box by gives nothing', () => {
    expect(planeInBox({ normal: [1, 0, 0], offsetMm: 1.01 }, BOX)).toEqual([]);
    expect(planeInBox({ normal: [0, 0, -1], offsetMm: 0.5 }, BOX)).toEqual([]);
  });
});
