import { coatMix } from '../../../src/core/material/coatMix.ts';
import { coatTimes } from '../../../src/core/material/coatTimes.ts';
import type { CoatWork } from '../../../src/core/PlanResult.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';

/** A coat of the plan on a piece, so many grams of it over so much area, nothing on the wall yet. */
export function madeUpCoat(
  plan: PlanDocument,
  coat: number,
  massG: number,
  areaMm2: number,
  piece = 'A',
): CoatWork {
  const { system, mix } = coatMix(plan, plan.coats[coat]);
  const { name, kind, thicknessMm } = plan.coats[coat];
  return {
    piece,
    pieceName: `Piece ${piece}`,
    coat,
    name,
    kind,
    systemId: system.id,
    volumeMm3: (massG / mix.densityGPerCm3) * 1000,
    flangeMm3: 0,
    areaMm2,
    densityGPerCm3: mix.densityGPerCm3,
    massG,
    dryMassG: massG * mix.dryShare,
    times: coatTimes(system, plan.coats[coat]).times,
    laidG: 0,
    laidMm: 0,
    toLayG: massG,
    thicknessMm,
    isDone: false,
  };
}
