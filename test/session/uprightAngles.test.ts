import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mapPoints } from '../../src/core/mesh/affine.ts';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { UP_AXES } from '../../src/core/plan/PlanDocument.ts';
import { uprightTurnTilt } from '../../src/core/plan/uprightTurnTilt.ts';
import { turnVector } from '../../src/session/turnPlan.ts';
import {
  anglesOfRotation,
  multiply,
  NO_TURN,
  type Rotation,
  rotationBetween,
  rotationOf,
  snapLevel,
  transposed,
} from '../../src/session/uprightAngles.ts';

/** Angles are written to 1e-6 degrees, 1.7e-8 radians; each of the three adds half of that at most, and rounding. */
const TOLERANCE = 3e-8;

const expectSame = (a: Rotation, b: Rotation) => {
  const off = Math.max(...a.map((x, i) => Math.abs(x - b[i])));
  expect(off).toBeLessThan(TOLERANCE);
};

/** Any rotation, evenly: from a unit quaternion. Source: the usual formula, from memory, checked by `isRotation`. */
const anyRotation = fc
  .tuple(...[0, 1, 2, 3].map(() => fc.double({ min: -1, max: 1, noNaN: true })))
  .filter((q) => Math.hypot(...q) > 0.05)
  .map((q): Rotation => {
    const n = Math.hypot(...q);
    const [w, x, y, z] = q.map((c) => c / n);
    // biome-ignore format: one row of the matrix a line.
    return [
      1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y),
      2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x),
      2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y),
    ];
  });

describe('upright angles', () => {
  test('the rotations drawn are rotations: their transposed takes them back', () => {
    fc.assert(
      fc.property(anyRotation, (r) => expectSame(multiply(r, transposed(r)), NO_TURN)),
      { seed: 20_261 },
    );
  });

  test('any rotation is written down in angles that the plan accepts and that give it back (seed 20261)', () => {
    fc.assert(
      fc.property(anyRotation, (rotation) => {
        const angles = anglesOfRotation(rotation);
        expect(angles.turnDeg).toBeGreaterThanOrEqual(0);
        expect(angles.turnDeg).toBeLessThan(360);
        // The axis nearest to z stands at most acos(1 / sqrt 3) = 54.7 degrees off it.
        for (const tilt of angles.tiltDeg) expect(Math.abs(tilt)).toBeLessThanOrEqual(54.74);
        expectSame(rotationOf(angles), rotation);
      }),
      { seed: 20_261, numRuns: 2000 },
    );
  });

  test('angles with small tilts come back as they are', () => {
    const angle = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom(...UP_AXES),
        angle(0, 359.9),
        angle(-30, 30),
        angle(-30, 30),
        (up, turnDeg, x, y) => {
          const back = anglesOfRotation(rotationOf({ up, turnDeg, tiltDeg: [x, y] }));
          expect(back.up).toBe(up);
          expect(Math.abs(back.turnDeg - turnDeg)).toBeLessThan(2e-6);
          expect(Math.abs(back.tiltDeg[0] - x)).toBeLessThan(2e-6);
          expect(Math.abs(back.tiltDeg[1] - y)).toBeLessThan(2e-6);
        },
      ),
      { seed: 7 },
    );
  });

  test("all 24 right-angled standings are exact: no axis strays, and the preparation's own map agrees", () => {
    for (const up of UP_AXES) {
      for (const turnDeg of [0, 90, 180, 270]) {
        const angles = { up, turnDeg, tiltDeg: [0, 0] } as const;
        expect(anglesOfRotation(rotationOf(angles))).toEqual(angles);
        const [x, y, z] = mapPoints(Float64Array.of(1, 2, 3), uprightTurnTilt(up, turnDeg, [0, 0]));
        const r = rotationOf(angles);
        expect([r[0] + 2 * r[1] + 3 * r[2], r[3] + 2 * r[4] + 3 * r[5], r[6] + 2 * r[7] + 3 * r[8]]).toEqual([
          x,
          y,
          z,
        ]);
      }
    }
  });
});

describe('turns', () => {
  const DOWN = [0, 0, -1] as const;
  const anyDirection = fc
    .tuple(...[0, 1, 2].map(() => fc.double({ min: -1, max: 1, noNaN: true })))
    .filter((v) => Math.hypot(...v) > 0.05)
    .map((v) => v.map((x) => x / Math.hypot(...v)) as unknown as Vec3);

  test('the shortest turn brings any direction down, straight up included', () => {
    const expectDown = (from: Vec3) => {
      const r = rotationBetween(from, DOWN);
      expectSame(multiply(r, transposed(r)), NO_TURN);
      turnVector(r, from).forEach((x, k) => {
        expect(Math.abs(x - DOWN[k])).toBeLessThan(1e-12);
      });
      // The trace of a rotation is 1 + 2 cos(angle); the shortest is the angle between the two.
      expect((r[0] + r[4] + r[8] - 1) / 2).toBeCloseTo(-from[2], 9);
    };
    fc.assert(fc.property(anyDirection, expectDown), { seed: 11 });
    expectDown([0, 0, 1]);
    expectDown([0, 0, -1]);
  });

  test('within three degrees of upright the tilt goes and the turn stays; beyond, nothing changes', () => {
    const near = rotationOf({ up: '-y', turnDeg: 41, tiltDeg: [1.5, -2.2] });
    expect(anglesOfRotation(snapLevel(near, 3))).toEqual({ up: '-y', turnDeg: 41, tiltDeg: [0, 0] });
    const far = rotationOf({ up: '-y', turnDeg: 41, tiltDeg: [2.5, -2.2] });
    expect(snapLevel(far, 3)).toBe(far);
  });
});
