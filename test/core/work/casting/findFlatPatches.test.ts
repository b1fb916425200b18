import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';
import { FLATTISH_DEG, findFlatPatches } from '../../../../src/core/work/casting/findFlatPatches.ts';
import { leastRectangle } from '../../../../src/core/work/casting/leastRectangle.ts';
import { fillMould } from '../../../../src/core/work/casting/MouldFill.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, cylinder, joined, moved, octasphere, turned } from '../../../fixtures/shapes.ts';

/** So deep a fluid that all of a body is under it. */
const DEEP = fillMould(
  { densityGPerCm3: 1, attitude: 'as-built', levelMm: 1000, wallMm: null, rubberMm: 10 },
  0,
  1000,
);

const patchOf = (mesh: TriMesh) =>
  findFlatPatches(mesh.positions, mesh.indices, new Int32Array(mesh.indices.length / 3), 1, DEEP)[0];

describe('the largest flattish patch', () => {
  it('is a box’s largest face with its true sides, however it is turned', () => {
    for (const angle of [0, 0.3, 1.1]) {
      const patch = patchOf(moved(turned(box(120, 300, 80), [1, 2, 0.5], angle), [0, 0, 400]));
      expect(patch?.areaMm2).toBeCloseTo(120 * 300, 6);
      expect(patch?.longMm).toBeCloseTo(300, 6);
      expect(patch?.shortMm).toBeCloseTo(120, 6);
    }
  });

  it('is a strip of a cylinder as wide as the angle allows: 2 r sin, a facet either way', () => {
    const sides = 180;
    const patch = patchOf(cylinder(100, 500, sides));
    const half = (FLATTISH_DEG * Math.PI) / 180;
    const facet = (2 * Math.PI) / sides;
    expect(patch?.longMm).toBeCloseTo(500, 6);
    expect(patch?.shortMm).toBeGreaterThan(2 * 100 * Math.sin(half - facet));
    expect(patch?.shortMm).toBeLessThan(2 * 100 * Math.sin(half + facet));
  });

  it('hangs together: of two faces that look one way, the larger alone', () => {
    const patch = patchOf(joined(box(50, 200, 300), moved(box(50, 100, 300), [0, 500, 0])));
    expect(patch?.areaMm2).toBeCloseTo(200 * 300, 6);
    expect(patch?.longMm).toBeCloseTo(300, 6);
  });

  it('stays within its piece, and bears the pressure of its own lowest point', () => {
    const mesh = joined(box(100, 100, 100), moved(box(300, 300, 300), [0, 0, 200]));
    const triRegion = Int32Array.from({ length: 24 }, (_, t) => (t < 12 ? 0 : 1));
    const [small, large] = findFlatPatches(mesh.positions, mesh.indices, triRegion, 2, DEEP);
    expect(small?.longMm).toBeCloseTo(100, 6);
    expect(large?.longMm).toBeCloseTo(300, 6);
    // No deeper than the piece's own foot, which is 800 mm under the level.
    expect(large?.pressurePa).toBeLessThanOrEqual(800 * 9.80665 * (1 + 1e-12));
  });

  it('is none where nothing is under the level, and some on a ball', () => {
    const ball = moved(octasphere(100, 16), [0, 0, 2000]);
    expect(patchOf(ball)).toBeNull();
    const under = patchOf(moved(octasphere(100, 32), [0, 0, 300]));
    const half = (FLATTISH_DEG * Math.PI) / 180;
    // A cap of that half angle: its disc's diameter is 2 r sin.
    expect(under?.longMm).toBeGreaterThan(2 * 100 * Math.sin(half) * 0.85);
    expect(under?.longMm).toBeLessThan(2 * 100 * Math.sin(half) * 1.15);
  });
});

describe('the smallest rectangle', () => {
  it('is that of a turned rectangle filled with points', () => {
    const random = seededRandom(5);
    for (const angle of [0, 0.2, 0.9, 1.4]) {
      const points = Array.from({ length: 200 }, (_, n): [number, number] => {
        const x = n < 4 ? 40 * (n % 2) : 40 * random();
        const y = n < 4 ? 15 * Math.floor(n / 2) : 15 * random();
        return [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)];
      });
      const [long, short] = leastRectangle(points);
      expect(long).toBeCloseTo(40, 9);
      expect(short).toBeCloseTo(15, 9);
    }
  });

  it('of a line is without width, of a point nothing', () => {
    const [long, short] = leastRectangle([
      [0, 0],
      [3, 4],
      [1.5, 2],
    ]);
    expect(long).toBeCloseTo(5, 12);
    expect(short).toBeCloseTo(0, 12);
    expect(leastRectangle([[1, 1]])).toEqual([0, 0]);
    expect(leastRectangle([])).toEqual([0, 0]);
  });
});
