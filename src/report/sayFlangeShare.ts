import { coatMix } from '../core/material/coatMix.ts';
import { flangeShares } from '../core/material/flangeShares.ts';
import type { PieceResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { formatMass, type UnitSystem } from '../core/units.ts';

/** "685 g of it is for the flange", of a coat of a piece, as laid; '' where the coat holds none of the flange. */
export function sayFlangeShare(
  plan: PlanDocument,
  piece: Pick<PieceResult, 'flange'> | undefined,
  coatNumber: number,
  system: UnitSystem,
): string {
  const coat = plan.coats[coatNumber];
  const volumeMm3 = coat && piece ? piece.flange.volumeMm3 * flangeShares(plan.coats)[coatNumber] : 0;
  if (!(volumeMm3 > 0)) return '';
  const massG = (coatMix(plan, coat).mix.densityGPerCm3 * volumeMm3) / 1000;
  return `${formatMass(massG, system)} of it is for the flange`;
}
