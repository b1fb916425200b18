import type { BatchResult, CoatWork } from '../../../../src/core/PlanResult.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { DayPlan, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import type { WorkGround } from '../../../../src/core/work/WorkGround.ts';
import { tradePlan } from '../../../fixtures/tradeGypsum.ts';
import { boxGround } from '../log/boxGround.ts';
import { madeUpCoat } from '../madeUpCoat.ts';

/**
 * The trade's plan (four coats, check values: common practice, no source), 25 min for the release to dry, round
 * minutes otherwise.
 */
export function tradeDay(day: Partial<DayPlan> = {}): PlanDocument {
  const plan = tradePlan(newPlan('figure.stl'));
  const stepMin = {
    wallPerM: 40,
    releaseBrush: 10,
    releaseDry: 25,
    setOut: 10,
    shimsOut: 10,
    edgeClean: 15,
    trimPerPiece: 20,
    open: 20,
    assemble: 20,
  };
  return { ...plan, day: { ...plan.day, fromMin: 480, toMin: 1020, stepMin, ...day } };
}

/** Pieces by id; borders of half a metre between those that are named together. */
export function madeUpGround(
  ids: readonly string[],
  borders: readonly (readonly [string, string])[],
): WorkGround {
  return { ...boxGround(ids), borders: borders.map((between) => ({ between, lengthMm: 500 })) };
}

/** Every coat of every piece, nothing on the wall. */
export function madeUpWork(plan: PlanDocument, ids: readonly string[]): CoatWork[] {
  return ids.flatMap((id) => plan.coats.map((_, coat) => madeUpCoat(plan, coat, 2000, 130_000, id)));
}

/** So many open batches of every coat that is not done, each mixed and laid in 15 minutes. */
export function madeUpBatches(work: readonly CoatWork[], of = 1): BatchResult[] {
  return work
    .filter(({ isDone }) => !isDone)
    .flatMap((coat) => Array.from({ length: of }, (_, n) => madeUpBatch(coat, n + 1, of)));
}

export function madeUpBatch(coat: CoatWork, number: number, of: number): BatchResult {
  return {
    piece: coat.piece,
    coat: coat.name,
    coatNumber: coat.coat,
    number,
    of,
    componentsG: { powder: 1300 / of, liquid: 650 / of, thickener: 13 / of },
    mixedG: 1963 / of,
    laidG: 1900 / of,
    volumeMl: 1050 / of,
    areaMm2: coat.areaMm2 / of,
    steps: [],
    workingTimeMin: coat.times.workingMin,
    mixMin: 3,
    layMin: 12,
    ratioOff: 0,
    loggedG: null,
  };
}
