import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { ASPECT_ANGLES, nearestTurn } from '../../../src/view/camera/aspectAngles.ts';
import { CameraRig } from '../../../src/view/camera/CameraRig.ts';
import { cameraBasis, dot } from '../../../src/view/camera/cameraBasis.ts';
import { FIT_MARGIN_PX, fitOrbit } from '../../../src/view/camera/fitOrbit.ts';
import { offsetPoints, thinnedPoints } from '../../../src/view/camera/fitPoints.ts';
import { orbited, panned, zoomedAt } from '../../../src/view/camera/moveOrbit.ts';
import {
  distanceForHeight,
  mmPerPixelAt,
  type OrbitState,
  POLAR_MAX_RAD,
} from '../../../src/view/camera/OrbitState.ts';
import { projectPoint } from '../../../src/view/camera/projectPoint.ts';
import type { Aspect } from '../../../src/view/viewTypes.ts';

const viewport = { width: 900, height: 700 };
const start: OrbitState = { target: [10, 20, 150], azimuthRad: 0.4, polarRad: 1.2, distanceMm: 3000 };

const expectNear = (got: Vec3, want: Vec3): void => {
  for (let k = 0; k < 3; k++) expect(got[k]).toBeCloseTo(want[k], 12);
};

describe('cameraBasis', () => {
  test('is orthonormal and right-handed everywhere, straight down included', () => {
    for (const polar of [0, 0.3, Math.PI / 2, POLAR_MAX_RAD]) {
      for (const azimuth of [-7, -1, 0, 2, 40]) {
        const { right, up, back } = cameraBasis(azimuth, polar);
        for (const axis of [right, up, back]) expect(Math.hypot(...axis)).toBeCloseTo(1, 12);
        expect(dot(right, up)).toBeCloseTo(0, 12);
        const cross: Vec3 = [
          right[1] * up[2] - right[2] * up[1],
          right[2] * up[0] - right[0] * up[2],
          right[0] * up[1] - right[1] * up[0],
        ];
        expectNear(cross, back);
      }
    }
  });
});

describe('the five views', () => {
  const cases: readonly [Aspect, { back: Vec3; right: Vec3; up: Vec3 }][] = [
    ['front', { back: [0, -1, 0], right: [1, 0, 0], up: [0, 0, 1] }],
    ['back', { back: [0, 1, 0], right: [-1, 0, 0], up: [0, 0, 1] }],
    ['left', { back: [-1, 0, 0], right: [0, -1, 0], up: [0, 0, 1] }],
    ['right', { back: [1, 0, 0], right: [0, 1, 0], up: [0, 0, 1] }],
    ['top', { back: [0, 0, 1], right: [1, 0, 0], up: [0, 1, 0] }],
  ];
  test.each(cases)('%s: where the camera stands, what is right and up', (aspect, want) => {
    const { azimuthRad, polarRad } = ASPECT_ANGLES[aspect];
    const got = cameraBasis(azimuthRad, polarRad);
    expectNear(got.back, want.back);
    expectNear(got.right, want.right);
    expectNear(got.up, want.up);
  });

  test('are reached by the short way round', () => {
    expect(nearestTurn(Math.PI, -3)).toBeCloseTo(-Math.PI, 12);
    expect(nearestTurn(0, 13)).toBeCloseTo(4 * Math.PI, 12);
    expect(nearestTurn(-Math.PI / 2, -1)).toBeCloseTo(-Math.PI / 2, 12);
  });
});

describe('orbit, pan, zoom', () => {
  test('the polar angle stays between straight down and a little below level', () => {
    expect(orbited(start, 0, -9).polarRad).toBe(0);
    expect(orbited(start, 0, 9).polarRad).toBe(POLAR_MAX_RAD);
    expect(orbited(start, 0.5, 0.1)).toMatchObject({ azimuthRad: 0.9, polarRad: 1.3, distanceMm: 3000 });
  });

  test('panning moves what was in the middle by just the pixels asked', () => {
    const moved = panned(start, viewport, 37, -12);
    const { x, y } = projectPoint(moved, viewport, start.target);
    expect(x).toBeCloseTo(450 + 37, 9);
    expect(y).toBeCloseTo(350 - 12, 9);
  });

  test("zooming keeps the point of the target's plane under the pointer", () => {
    const { right, up } = cameraBasis(start.azimuthRad, start.polarRad);
    const mm = mmPerPixelAt(start.distanceMm, viewport);
    const point: Vec3 = [0, 1, 2].map((k) => start.target[k] + (120 * right[k] + 80 * up[k]) * mm) as [
      number,
      number,
      number,
    ];
    for (const factor of [0.3, 1, 2.5]) {
      const zoomed = zoomedAt(start, viewport, 450 + 120, 350 - 80, factor, [1, 1e6]);
      expect(zoomed.distanceMm).toBeCloseTo(3000 / factor, 9);
      const { x, y } = projectPoint(zoomed, viewport, point);
      expect(x).toBeCloseTo(570, 8);
      expect(y).toBeCloseTo(270, 8);
    }
  });

  test('zooming stops at its limits and then no longer drifts', () => {
    const near = zoomedAt(start, viewport, 0, 0, 100, [1000, 5000]);
    expect(near.distanceMm).toBe(1000);
    expect(zoomedAt(near, viewport, 0, 0, 2, [1000, 5000])).toEqual(near);
  });

  test('distanceForHeight is the inverse of mmPerPixelAt', () => {
    expect(mmPerPixelAt(distanceForHeight(500), viewport) * viewport.height).toBeCloseTo(500, 9);
  });
});

describe('fitOrbit', () => {
  const box: number[] = [];
  for (const x of [-80, 60]) for (const y of [-40, 40]) for (const z of [0, 450]) box.push(x, y, z);

  const outline = (state: OrbitState, size = viewport) => {
    const xs: number[] = [];
    const ys: number[] = [];
    for (let i = 0; i < box.length; i += 3) {
      const { x, y } = projectPoint(state, size, [box[i], box[i + 1], box[i + 2]]);
      xs.push(x);
      ys.push(y);
    }
    return {
      left: Math.min(...xs),
      right: size.width - Math.max(...xs),
      top: Math.min(...ys),
      bottom: size.height - Math.max(...ys),
    };
  };

  test.each([
    [-2, 1.3],
    [0, Math.PI / 2],
    [0.9, 0],
  ])('azimuth %f, polar %f: within the margin, touching it on two sides, centred', (azimuth, polar) => {
    for (const [size, marginPx] of [
      [{ width: 700, height: 500 }, FIT_MARGIN_PX],
      // On a telephone an eighth of the picture, not more: own arithmetic.
      [{ width: 400, height: 900 }, 50],
      [{ width: 390, height: 240 }, 30],
    ] as const) {
      const gaps = outline(fitOrbit(box, size, azimuth, polar), size);
      const least = Math.min(gaps.left, gaps.right, gaps.top, gaps.bottom);
      // Half a pixel: what five rounds leave of the centring.
      expect(least).toBeGreaterThan(marginPx - 0.5);
      expect(least).toBeLessThan(marginPx + 0.5);
      expect(Math.abs(gaps.left - gaps.right)).toBeLessThan(1);
      expect(Math.abs(gaps.top - gaps.bottom)).toBeLessThan(1);
    }
  });

  test('a single point does not put the camera into it', () => {
    expect(fitOrbit([1, 2, 3], viewport, 0, 1).distanceMm).toBeGreaterThan(0);
  });

  test('thinning keeps few points, offsets repeat them', () => {
    const many = Float32Array.from({ length: 3 * 20_000 }, (_, i) => i);
    const few = thinnedPoints(many);
    expect(few.length / 3).toBeLessThan(4000);
    expect([...few.subarray(0, 3)]).toEqual([0, 1, 2]);
    expect(few.subarray(-3).every((value) => many.includes(value))).toBe(true);
    expect([
      ...offsetPoints(new Float32Array([1, 2, 3]), [
        [0, 0, 0],
        [10, 20, 30],
      ]),
    ]).toEqual([1, 2, 3, 11, 22, 33]);
  });
});

describe('CameraRig', () => {
  const goal: OrbitState = { target: [0, 0, 50], azimuthRad: 1.4, polarRad: 0.3, distanceMm: 900 };

  test('glides to its goal, never past it, and then rests', () => {
    const rig = new CameraRig(() => false);
    rig.moveTo(start, 'jump');
    rig.moveTo(goal, 'glide');
    expect(rig.state).toEqual(start);
    let frames = 0;
    let last = start.azimuthRad;
    while (rig.advance(1 / 60)) {
      expect(rig.state.azimuthRad).toBeGreaterThan(last);
      expect(rig.state.azimuthRad).toBeLessThanOrEqual(goal.azimuthRad);
      last = rig.state.azimuthRad;
      expect(++frames).toBeLessThan(120);
    }
    expect(frames).toBeGreaterThan(10);
    expect(rig.state).toEqual(goal);
    expect(rig.advance(1)).toBe(false);
  });

  test('jumps when the user wants less motion', () => {
    const rig = new CameraRig(() => true);
    rig.moveTo(goal, 'glide');
    expect(rig.state).toEqual(goal);
    expect(rig.advance(1 / 60)).toBe(false);
  });
});
