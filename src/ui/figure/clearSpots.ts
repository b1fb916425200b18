import type { MarkedArea } from '../../core/plan/PlanDocument.ts';
import type { MouldView } from '../../view/MouldView.ts';

/** A marked area as a ring in the picture, CSS pixels. */
export interface ClearSpot {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly radiusPx: number;
}

/** Areas kept clear, or that suggested lines avoid, that face the eye, with their size on the screen. */
export function clearSpots(
  areas: readonly MarkedArea[],
  view: Pick<MouldView, 'project' | 'mmPerPixel'>,
): ClearSpot[] {
  const mmPerPixel = view.mmPerPixel();
  return areas.flatMap(({ name, dabsMm, radiusMm }) => {
    const { x, y, visible } = view.project(dabsMm[0]);
    return visible && mmPerPixel > 0 ? [{ name, x, y, radiusPx: radiusMm / mmPerPixel }] : [];
  });
}
