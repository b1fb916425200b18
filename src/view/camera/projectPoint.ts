import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import { addScaled, cameraBasis, dot } from './cameraBasis.ts';
import { FIELD_OF_VIEW_RAD, type OrbitState, type Viewport } from './OrbitState.ts';

/** A point in the picture: CSS pixels from the upper left, and its depth along the view, mm (negative: behind the camera). */
export interface ProjectedPoint {
  readonly x: number;
  readonly y: number;
  readonly depthMm: number;
}

/** Pinhole projection of a world point. Source: similar triangles. */
export function projectPoint(state: OrbitState, viewport: Viewport, point: Vec3): ProjectedPoint {
  const { right, up, back } = cameraBasis(state.azimuthRad, state.polarRad);
  const rel = addScaled(point, state.target, -1);
  const depthMm = state.distanceMm - dot(rel, back);
  const pixels = viewport.height / 2 / Math.tan(FIELD_OF_VIEW_RAD / 2) / depthMm;
  return {
    x: viewport.width / 2 + dot(rel, right) * pixels,
    y: viewport.height / 2 - dot(rel, up) * pixels,
    depthMm,
  };
}

/** The ray through a pixel: from the camera, unit direction into the picture. Inverse of `projectPoint`. */
export function pixelRay(
  state: OrbitState,
  viewport: Viewport,
  xPx: number,
  yPx: number,
): { readonly origin: Vec3; readonly direction: Vec3 } {
  const { right, up, back } = cameraBasis(state.azimuthRad, state.polarRad);
  const slope = (2 * Math.tan(FIELD_OF_VIEW_RAD / 2)) / viewport.height;
  const x = (xPx - viewport.width / 2) * slope;
  const y = (viewport.height / 2 - yPx) * slope;
  const length = Math.hypot(x, y, 1);
  return {
    origin: addScaled(state.target, back, state.distanceMm),
    direction: [
      (x * right[0] + y * up[0] - back[0]) / length,
      (x * right[1] + y * up[1] - back[1]) / length,
      (x * right[2] + y * up[2] - back[2]) / length,
    ],
  };
}
