import type { ProbeResult } from '../../core/PlanResult.ts';
import type { MouldView } from '../../view/MouldView.ts';
import { spreadRings } from './spreadRings.ts';

/** Where the number of a point for the pin stands in the picture, CSS pixels. */
export interface ProbeSpot {
  readonly number: number;
  readonly x: number;
  readonly y: number;
  /** The point itself: its number stands beside it where others are near. */
  readonly at: { readonly x: number; readonly y: number };
}

/** The points for the pin that face the eye. */
export function probeSpots(
  probes: readonly Pick<ProbeResult, 'number' | 'pointMm'>[],
  view: Pick<MouldView, 'project'>,
): ProbeSpot[] {
  const seen = probes.flatMap(({ number, pointMm }) => {
    const { x, y, visible } = view.project(pointMm);
    return visible ? [{ number, x, y }] : [];
  });
  const rings = spreadRings(seen);
  return seen.map(({ number, x, y }, i) => ({ number, ...rings[i], at: { x, y } }));
}
