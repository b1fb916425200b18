import type { MarkedArea } from '../../core/plan/PlanDocument.ts';
import type { MouldView } from '../../view/MouldView.ts';

/** Where the name of a marked area stands in the picture, CSS pixels. */
export interface ClearSpot {
  readonly name: string;
  readonly x: number;
  readonly y: number;
}

/** Areas kept clear, or that suggested lines avoid, that face the eye: the name at the middle dab. */
export function clearSpots(areas: readonly MarkedArea[], view: Pick<MouldView, 'project'>): ClearSpot[] {
  return areas.flatMap(({ name, dabsMm }) => {
    const { x, y, visible } = view.project(dabsMm[dabsMm.length >> 1]);
    return visible ? [{ name, x, y }] : [];
  });
}
