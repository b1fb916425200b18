import type { PlanDocument } from '../../plan/PlanDocument.ts';
import type { WorkGround } from '../WorkGround.ts';
import { cleanSum } from './cleanSum.ts';

/** Board is brushed so far beyond the shell, mm: where drips and trowel reach. Common practice, no source. */
export const BOARD_MARGIN_MM = 50;

const MM2_PER_M2 = 1e6;
const G_PER_KG = 1000;

export interface ReleaseNeed {
  readonly areaMm2: number;
  readonly massG: number;
  /** False where the rubber's outline on the board is not known: the board is then left out. */
  readonly hasBoard: boolean;
}

/**
 * Release agent for the shell: along every line the shim's face and later the edge of the piece that was built against
 * it, both as wide as the wall, and a margin of board around the foot; times the coats brushed, over the agent's
 * coverage. The rubber's own release is not in it.
 */
export function releaseNeed(plan: PlanDocument, ground: WorkGround, wallWidthMm: number): ReleaseNeed {
  const { coverageM2PerKg, coats } = plan.supplies.release;
  const lineMm = ground.borders.reduce((sum, border) => sum + border.lengthMm, 0);
  const boardMm = wallWidthMm + BOARD_MARGIN_MM;
  const { footMm } = ground;
  // A band around a convex outline has its length times its width, and the turns of the corners, together one circle.
  const boardMm2 = footMm === undefined || footMm === 0 ? 0 : footMm * boardMm + Math.PI * boardMm * boardMm;
  const areaMm2 = 2 * lineMm * wallWidthMm + boardMm2;
  return {
    areaMm2,
    massG: cleanSum(((areaMm2 / MM2_PER_M2) * coats * G_PER_KG) / coverageM2PerKg),
    hasBoard: boardMm2 > 0,
  };
}
