import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cubeCut, cubeCuts, cubeReach } from '../../../src/core/field/cubeCut.ts';

test('planes square to an axis cut off a slab', () => {
  for (const [n, offset, share] of [
    [[1, 0, 0], 0, 0.5],
    [[0, 1, 0], 0.25, 0.75],
    [[0, 0, -1], -0.5, 0],
    [[0, 0, 2], 1, 1],
  ] as const) {
    expect(cubeCut(n[0], n[1], n[2], offset)).toBeCloseTo(share, 12);
  }
});

test('a corner cut is a tetrahedron of a third of base times height', () => {
  // Plane x + y + z = 0.3 from the corner at (-1/2, -1/2, -1/2): legs 0.3, volume 0.3^3 / 6.
  expect(cubeCut(1, 1, 1, 0.3 - 1.5)).toBeCloseTo(0.3 ** 3 / 6, 12);
  // Through the middle of the body diagonal: the regular hexagon halves the cube.
  expect(cubeCut(1, 1, 1, 0)).toBeCloseTo(0.5, 12);
});

test('equals the integral of its own section along the normal (inclusion-exclusion over the corners)', () => {
  // Volume under a plane by alternating cubes at the corners: sum (-1)^k (alpha - m.c)_+^3 / (6 m1 m2 m3), a classical formula.
  const unit = fc.double({ min: 0.05, max: 1, noNaN: true });
  fc.assert(
    fc.property(unit, unit, unit, fc.double({ min: -1, max: 1, noNaN: true }), (a, b, c, u) => {
      const offset = u * (a + b + c) * 0.5;
      const alpha = offset + (a + b + c) / 2;
      let sum = 0;
      for (let k = 0; k < 8; k++) {
        const at = alpha - (k & 1 ? a : 0) - (k & 2 ? b : 0) - (k & 4 ? c : 0);
        const bits = (k & 1) + ((k >> 1) & 1) + (k >> 2);
        if (at > 0) sum += (bits % 2 === 0 ? 1 : -1) * at ** 3;
      }
      expect(cubeCut(a, b, c, offset)).toBeCloseTo(sum / (6 * a * b * c), 9);
    }),
    { seed: 11, numRuns: 500 },
  );
});

test('both sides of a plane make the whole cube; nothing is cut beyond the reach', () => {
  const part = fc.double({ min: -1, max: 1, noNaN: true });
  fc.assert(
    fc.property(part, part, part, part, (x, y, z, offset) => {
      if (Math.hypot(x, y, z) < 1e-3) return;
      expect(cubeCut(x, y, z, offset) + cubeCut(-x, -y, -z, -offset)).toBeCloseTo(1, 9);
      expect(cubeCut(x, y, z, cubeReach(x, y, z))).toBeCloseTo(1, 12);
      expect(cubeCut(x, y, z, -cubeReach(x, y, z))).toBeCloseTo(0, 12);
    }),
    { seed: 12, numRuns: 500 },
  );
});

test('several cuts of one direction equal those made one by one', () => {
  const direction = fc.double({ min: -1, max: 1, noNaN: true });
  const out = new Float64Array(9);
  fc.assert(
    fc.property(direction, direction, direction, (x, y, z) => {
      fc.pre(Math.abs(x) + Math.abs(y) + Math.abs(z) > 1e-3);
      cubeCuts(x, y, z, -1, 0.25, 9, out);
      for (let k = 0; k < 9; k++) expect(out[k]).toBeCloseTo(cubeCut(x, y, z, -1 + 0.25 * k), 10);
    }),
    { seed: 11 },
  );
});
