import type { Vec3 } from '../mesh/TriMesh.ts';
import type { MarkedArea } from './PlanDocument.ts';

/** A ball in the board frame; an area is the part of S inside any of its balls. */
export interface AreaBall {
  readonly centreMm: Vec3;
  readonly radiusMm: number;
}

/** All balls of all areas, one a dab of the brush. */
export function ballsOf(areas: readonly MarkedArea[]): readonly AreaBall[] {
  return areas.flatMap(({ dabsMm, radiusMm }) => dabsMm.map((centreMm) => ({ centreMm, radiusMm })));
}
