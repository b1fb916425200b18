import { addScaled, cameraBasis } from './cameraBasis.ts';
import { mmPerPixelAt, type OrbitState, POLAR_MAX_RAD, type Viewport } from './OrbitState.ts';

/** Turned about the target; the polar angle stays between straight down and a little below level. */
export function orbited(state: OrbitState, azimuthRad: number, polarRad: number): OrbitState {
  return {
    ...state,
    azimuthRad: state.azimuthRad + azimuthRad,
    polarRad: Math.min(POLAR_MAX_RAD, Math.max(0, state.polarRad + polarRad)),
  };
}

/** Moved so that what lies in the target's plane follows the pointer: pixels, right and down positive. */
export function panned(state: OrbitState, viewport: Viewport, dxPx: number, dyPx: number): OrbitState {
  const { right, up } = cameraBasis(state.azimuthRad, state.polarRad);
  const mm = mmPerPixelAt(state.distanceMm, viewport);
  return { ...state, target: addScaled(addScaled(state.target, right, -dxPx * mm), up, dyPx * mm) };
}

/**
 * Nearer by `factor` (below 1: farther), keeping the point of the target's plane under the pixel where it is.
 * The distance stays within `limitsMm`; the factor is cut to what the limits allow.
 */
export function zoomedAt(
  state: OrbitState,
  viewport: Viewport,
  xPx: number,
  yPx: number,
  factor: number,
  limitsMm: readonly [number, number],
): OrbitState {
  const distanceMm = Math.min(limitsMm[1], Math.max(limitsMm[0], state.distanceMm / factor));
  const keep = 1 - distanceMm / state.distanceMm;
  const { right, up } = cameraBasis(state.azimuthRad, state.polarRad);
  const mm = mmPerPixelAt(state.distanceMm, viewport);
  const x = (xPx - viewport.width / 2) * mm * keep;
  const y = (viewport.height / 2 - yPx) * mm * keep;
  return { ...state, distanceMm, target: addScaled(addScaled(state.target, right, x), up, y) };
}
