import { describe, expect, test } from 'vitest';
import { pickTree } from '../../../src/core/spatial/pickTree.ts';
import { SurfacePicker } from '../../../src/view/pointer/SurfacePicker.ts';

/** A cube of 20 mm standing on the board about the z axis, open underneath; triangles 0-1 are its top, 2-3 its front (-y). */
const cube = {
  // biome-ignore format: one vertex a line.
  positions: new Float32Array([
    -10, -10, 0,
    10, -10, 0,
    10, 10, 0,
    -10, 10, 0,
    -10, -10, 20,
    10, -10, 20,
    10, 10, 20,
    -10, 10, 20,
  ]),
  // biome-ignore format: one triangle a line.
  indices: new Uint32Array([
    4, 5, 6,
    4, 6, 7,
    0, 1, 5,
    0, 5, 4,
    1, 2, 6,
    1, 6, 5,
    2, 3, 7,
    2, 7, 6,
    3, 0, 4,
    3, 4, 7,
  ]),
};

const picker = (): SurfacePicker => {
  const made = new SurfacePicker();
  made.setSurface({ ...cube, tree: pickTree(cube.positions, cube.indices) });
  return made;
};

describe('SurfacePicker', () => {
  test('gives point, distance and the triangle in the order of the mesh', () => {
    const hit = picker().pick([5, -100, 3], [0, 1, 0]);
    expect(hit?.distanceMm).toBeCloseTo(90, 5);
    expect(hit?.surface?.tri).toBe(2);
    expect(hit?.surface?.point.map((x) => Math.round(x * 1e4) / 1e4)).toEqual([5, -10, 3]);
    expect(picker().pick([5, -2, 100], [0, 0, -1])?.surface?.tri).toBe(0);
    expect(picker().pick([-5, 2, 100], [0, 0, -1])?.surface?.tri).toBe(1);
  });

  test('leaves the order of the triangles as it was', () => {
    const before = [...cube.indices];
    picker();
    expect([...cube.indices]).toEqual(before);
  });

  test('misses beside the mould, and without one', () => {
    expect(picker().pick([30, -100, 3], [0, 1, 0])).toBeNull();
    expect(new SurfacePicker().pick([0, -100, 3], [0, 1, 0])).toBeNull();
  });

  describe('with the front half cut away (kept: y >= 0)', () => {
    const cut = (): SurfacePicker => {
      const made = picker();
      made.setCut({ normal: [0, -1, 0], offsetMm: 0 });
      return made;
    };

    test('from the front the ray stops at the face of the cut, where nothing can be set', () => {
      const hit = cut().pick([5, -100, 3], [0, 1, 0]);
      expect(hit?.surface).toBeNull();
      expect(hit?.distanceMm).toBeCloseTo(100, 5);
    });

    test('from above only the half that is left is met', () => {
      expect(cut().pick([-5, 2, 100], [0, 0, -1])?.surface?.tri).toBe(1);
      expect(cut().pick([5, -2, 100], [0, 0, -1])).toBeNull();
    });

    test('from behind the surface is met as before', () => {
      const hit = cut().pick([5, 100, 3], [0, -1, 0]);
      expect(hit?.distanceMm).toBeCloseTo(90, 5);
      expect(hit?.surface?.point[1]).toBeCloseTo(10, 5);
    });

    test('knows which points are gone', () => {
      expect(cut().isCutAway([0, -1, 5])).toBe(true);
      expect(cut().isCutAway([0, 1, 5])).toBe(false);
      expect(picker().isCutAway([0, -1, 5])).toBe(false);
    });
  });
});
