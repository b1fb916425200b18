import { PerspectiveCamera, Vector3 } from 'three';
import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { CameraRig } from '../../../src/view/camera/CameraRig.ts';
import type { OrbitState } from '../../../src/view/camera/OrbitState.ts';
import { pixelRay, projectPoint } from '../../../src/view/camera/projectPoint.ts';

const viewport = { width: 800, height: 600 };
const states: readonly OrbitState[] = [
  { target: [0, 0, 100], azimuthRad: -Math.PI / 2, polarRad: Math.PI / 2, distanceMm: 900 },
  { target: [30, -20, 250], azimuthRad: 0.7, polarRad: 1.1, distanceMm: 2500 },
  { target: [0, 0, 0], azimuthRad: -Math.PI / 2, polarRad: 0, distanceMm: 700 },
];
const points: readonly Vec3[] = [
  [0, 0, 0],
  [40, 10, 120],
  [-35, 22, 260],
];

describe('projectPoint', () => {
  test("puts the target in the picture's middle, at the camera's distance", () => {
    for (const state of states) {
      const { x, y, depthMm } = projectPoint(state, viewport, state.target);
      expect([x, y]).toEqual([400, 300]);
      expect(depthMm).toBeCloseTo(state.distanceMm, 9);
    }
  });

  // Checked against three's own camera matrices (three 0.187, PerspectiveCamera and Vector3.project).
  test('agrees with the camera that draws the picture', () => {
    for (const state of states) {
      const rig = new CameraRig(() => true);
      rig.setViewport(viewport);
      rig.moveTo(state, 'jump');
      rig.apply([0, 0, 100], 400);
      expect(rig.camera).toBeInstanceOf(PerspectiveCamera);
      for (const point of points) {
        const clip = new Vector3(...point).project(rig.camera);
        const { x, y } = projectPoint(state, viewport, point);
        expect(x).toBeCloseTo((clip.x * 0.5 + 0.5) * viewport.width, 6);
        expect(y).toBeCloseTo((0.5 - clip.y * 0.5) * viewport.height, 6);
        // Inside near and far, or it would not be drawn.
        expect(Math.abs(clip.z)).toBeLessThan(1);
      }
    }
  });

  test('a point behind the camera has negative depth', () => {
    const [state] = states;
    expect(projectPoint(state, viewport, [0, -901, 100]).depthMm).toBeCloseTo(-1, 9);
  });
});

describe('pixelRay', () => {
  test('is the inverse of projectPoint: the ray through the pixel of a point meets the point', () => {
    for (const state of states) {
      for (const point of points) {
        const { x, y } = projectPoint(state, viewport, point);
        const { origin, direction } = pixelRay(state, viewport, x, y);
        expect(Math.hypot(...direction)).toBeCloseTo(1, 12);
        const to = new Vector3(...point).sub(new Vector3(...origin));
        const along = to.dot(new Vector3(...direction));
        expect(along).toBeGreaterThan(0);
        // Rounding only: 1e-9 of the distance.
        expect(to.addScaledVector(new Vector3(...direction), -along).length()).toBeLessThan(1e-9 * along);
      }
    }
  });
});
