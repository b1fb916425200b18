import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { CastingPlan } from '../../plan/PlanDocument.ts';
import type { MouldPressure } from './pressMould.ts';

/**
 * Centre of mass of the cast, mm, board frame: of the inside when it is solid and full, of the pressed face when it is hollow. Null when
 * it fills the mould in part, or nothing is bounded. The inside of the rubber's outer face stands for the cavity.
 */
export function centreOfCast(casting: CastingPlan, { fill, centres }: MouldPressure): Vec3 | null {
  if (casting.wallMm !== null) return centres.whole;
  return fill.headMm >= fill.fullMm ? centres.inside : null;
}
