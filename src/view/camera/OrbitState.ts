import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/** Where the camera stands: on a sphere about its target. World frame, z up, mm and radians. */
export interface OrbitState {
  /** Point that is drawn in the middle of the picture. */
  readonly target: Vec3;
  /** Direction from the target to the camera, from +x, counter-clockwise seen from above. */
  readonly azimuthRad: number;
  /** Angle between +z and the direction to the camera: 0 looks straight down, pi/2 level. */
  readonly polarRad: number;
  readonly distanceMm: number;
}

/** Size of the picture, CSS pixels. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

/**
 * Vertical angle of view. A very long lens: the picture is near to an elevation, so that dimensions laid over it look
 * right, it keeps just enough depth to tell front from back, and one can zoom in far without running into the mould.
 */
export const FIELD_OF_VIEW_RAD = (7 * Math.PI) / 180;

/** A little below level, so that an overhang near the board can be looked into, but never from under the board. */
export const POLAR_MAX_RAD = (100 * Math.PI) / 180;

/** mm on the plane through the target for one CSS pixel. */
export function mmPerPixelAt(distanceMm: number, viewport: Viewport): number {
  return (2 * distanceMm * Math.tan(FIELD_OF_VIEW_RAD / 2)) / Math.max(1, viewport.height);
}

/** Distance from which `heightMm` of the target's plane fills the picture from top to bottom. */
export function distanceForHeight(heightMm: number): number {
  return heightMm / 2 / Math.tan(FIELD_OF_VIEW_RAD / 2);
}
