import type { ProbeResult } from '../../core/PlanResult.ts';
import type { MouldView } from '../../view/MouldView.ts';

/** Where the number of a point for the pin stands in the picture, CSS pixels. */
export interface ProbeSpot {
  readonly number: number;
  readonly x: number;
  readonly y: number;
}

/** The points for the pin that face the eye. */
export function probeSpots(
  probes: readonly Pick<ProbeResult, 'number' | 'pointMm'>[],
  view: Pick<MouldView, 'project'>,
): ProbeSpot[] {
  return probes.flatMap(({ number, pointMm }) => {
    const { x, y, visible } = view.project(pointMm);
    return visible ? [{ number, x, y }] : [];
  });
}
