import type { Aspect } from '../viewTypes.ts';

const QUARTER = Math.PI / 2;

/**
 * Where the camera stands for each view. The front of the mould looks along -y, so that x runs to the right and z up
 * in the front view, as in an elevation; 'left' is the mould's left as one faces it. From above, +y points up.
 */
export const ASPECT_ANGLES: Readonly<
  Record<Aspect, { readonly azimuthRad: number; readonly polarRad: number }>
> = {
  front: { azimuthRad: -QUARTER, polarRad: QUARTER },
  back: { azimuthRad: QUARTER, polarRad: QUARTER },
  left: { azimuthRad: Math.PI, polarRad: QUARTER },
  right: { azimuthRad: 0, polarRad: QUARTER },
  top: { azimuthRad: -QUARTER, polarRad: 0 },
};

/** First look at a new scan: from the left front and a little above, which shows depth and the board's plane. */
export const FIRST_LOOK = { azimuthRad: -QUARTER - 0.42, polarRad: QUARTER - 0.2 };

/** The angle equal to `goalRad` but for whole turns that is nearest to `fromRad`. */
export function nearestTurn(goalRad: number, fromRad: number): number {
  return goalRad + Math.round((fromRad - goalRad) / (2 * Math.PI)) * 2 * Math.PI;
}
