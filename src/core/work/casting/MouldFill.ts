import type { CastingPlan } from '../../plan/PlanDocument.ts';
import { FREE_FALL_M_PER_S2 } from '../../units.ts';

/** How the fluid stands in the mould, board frame: depth below its level = `depthPerMm` z + `depthAtBoardMm`, negative above it. */
export interface MouldFill {
  /** -1 as built (depth grows downward, z falls), +1 with the foot upward. */
  readonly depthPerMm: 1 | -1;
  readonly depthAtBoardMm: number;
  /** Pressure for each millimetre of depth. */
  readonly paPerMm: number;
  /** Height of the level over the rubber's lowest point as it stands for pouring. */
  readonly headMm: number;
  /** The same, filled to the top: to the highest point as built, to the board's plane with the foot upward. */
  readonly fullMm: number;
}

/**
 * How a mould whose rubber reaches from `lowMm` to `highMm` (z, board frame) stands filled. A level above the top is taken
 * as given: the fluid then stands in the spout, and presses by its height there all the same.
 */
export function fillMould(casting: CastingPlan, lowMm: number, highMm: number): MouldFill {
  // kg/m3 x m/s2 = Pa per metre; g/cm3 is a thousand kg/m3, and a metre a thousand millimetres.
  const paPerMm = casting.densityGPerCm3 * FREE_FALL_M_PER_S2;
  if (casting.attitude === 'as-built') {
    const fullMm = highMm - lowMm;
    // To the top means to the highest point itself, not to a rounding below it: a level lid lies in the level.
    if (casting.levelMm === 'full') {
      return { depthPerMm: -1, depthAtBoardMm: highMm, paPerMm, headMm: fullMm, fullMm };
    }
    return {
      depthPerMm: -1,
      depthAtBoardMm: lowMm + casting.levelMm,
      paPerMm,
      headMm: casting.levelMm,
      fullMm,
    };
  }
  // Stood on its head the mould is open at the board's plane, and is full there even when the rubber ends below it.
  const fullMm = highMm;
  const headMm = casting.levelMm === 'full' ? fullMm : casting.levelMm;
  return { depthPerMm: 1, depthAtBoardMm: headMm - highMm, paPerMm, headMm, fullMm };
}

/** Pressure at height `zMm`, Pa; 0 above the level. */
export function pressureAt(fill: MouldFill, zMm: number): number {
  return Math.max(0, fill.depthPerMm * zMm + fill.depthAtBoardMm) * fill.paPerMm;
}
