import type { CoatResult, CoatWork, PieceResult, PlanResult } from '../../src/core/PlanResult.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import type { OpenedScan, PlanAnswer } from '../../src/jobs/protocol.ts';
import { rubberPicture } from '../fixtures/rubberPicture.ts';

/** An opened scan as the planner would report it; the numbers mean nothing. */
export function fakeOpened(name: string): OpenedScan {
  return { name, triangles: 2, vertices: 4, size: [1, 1, 1], notes: [] };
}

/** An answer whose masses follow a simple rule (1 g a mm of coat and piece), for tests of what the page does with it. */
export function fakeAnswer(plan: PlanDocument, revision: number, isFinal = true): PlanAnswer {
  let fromMm = 0;
  const coats: CoatResult[] = plan.coats.map((coat) => {
    const toMm = fromMm + coat.thicknessMm;
    const result = {
      name: coat.name,
      kind: coat.kind,
      fromMm,
      toMm,
      volumeMm3: 500 * coat.thicknessMm,
      volumeErrorMm3: 5,
      massG: coat.thicknessMm,
      massErrorG: 0.01,
      dryMassG: 0.9 * coat.thicknessMm,
    };
    fromMm = toMm;
    return result;
  });
  const piece = (id: string, x: number): PieceResult => ({
    id,
    name: id,
    pull: [x, 0, 0],
    areaMm2: 500,
    centreOfMassMm: [x, 0, 1],
    dryMassG: 0.9 * fromMm + 0.18,
    dryCentreOfMassMm: [x, 0, 1],
    boxMm: { min: [Math.min(0, 12 * x), -7, 0], max: [Math.max(0, 12 * x), 7, 32] },
    coats,
    flange: { lengthMm: 10, clearMm: 0, volumeMm3: 100, volumeErrorMm3: 1, massG: 0.2 },
    undercut: null,
    thin: {
      minMm: 1,
      areaBelowMm2: 0,
      levelledByMm: null,
      levelling: null,
      spots: [],
      spotCount: 0,
      rest: { areaMm2: 0, lackMm3: 0, massG: 0 },
      ridgeCoat: null,
    },
    volumeMm3: 500 * fromMm,
    volumeErrorMm3: 20,
    massG: fromMm + 0.2,
    massErrorG: 0.04,
  });
  const pieces = [piece('A', -1), piece('B', 1)];
  const result: PlanResult = {
    schema: 'scute-result/1',
    scan: {
      triangles: 2,
      vertices: 4,
      components: 1,
      openEdges: 4,
      openLoops: 1,
      nonManifoldEdges: 0,
      sizeMm: [20, 10, 30],
      unit: 'mm',
      warnings: [],
      repairs: [],
    },
    resolutionMm: 1,
    preliminary: !isFinal,
    rubber: { areaMm2: 1000, heightMm: 30, volumeMm3: null, layer: null },
    shell: {
      thicknessMm: fromMm,
      volumeMm3: 1000 * fromMm,
      volumeErrorMm3: 40,
      massG: 2 * fromMm + 0.4,
      massErrorG: 0.08,
    },
    pieces,
    filler: null,
    removal: null,
    partingLines: [{ between: ['A', 'B'], lengthMm: 60, points: [] }],
    batches: [],
    coatWork: pieces.flatMap(({ id, name }) => coatWorkOf(plan, id, name)),
    shopping: [],
    schedule: [],
    day: { startDate: null, endMin: 480, attendedMin: 0, unattendedMin: 0, days: 1, hands: plan.bench.hands },
    cost: { total: null, currency: '', byItem: {}, byPiece: {}, byCoat: {}, unpriced: [] },
    comparison: null,
    casting: null,
    handling: [],
    probes: [],
    workNotes: [],
    cautions: [],
    timesMs: { read: 0, repair: 0, field: 0, coats: 0, thin: 0, pieces: 0, undercut: 0, total: 0 },
  };
  const square = (x: number) =>
    rubberPicture({
      positions: new Float32Array([x, -5, 0, x, 5, 0, x, 5, 30, x, -5, 30]),
      indices: new Uint32Array([0, 1, 2, 0, 2, 3]),
    });
  return {
    revision,
    result,
    isFinal,
    geometry: {
      rubber: rubberPicture({
        positions: new Float32Array([-10, -5, 0, 10, 5, 0, 0, 0, 30]),
        indices: new Uint32Array([0, 1, 2]),
      }),
      pieces: [
        { id: 'A', pull: [-1, 0, 0], rubber: square(-10), shell: null, undercut: null, touch: null },
        { id: 'B', pull: [1, 0, 0], rubber: square(10), shell: null, undercut: null, touch: null },
      ],
      lines: [
        {
          id: 'auto-1',
          closed: false,
          path: new Float32Array([0, -5, 0, 0, 0, 30, 0, 5, 0]),
          controlPoints: new Float32Array([0, -5, 0, 0, 0, 30, 0, 5, 0]),
        },
      ],
      marks: [],
      filler: null,
      fileToBoard: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0],
    },
  };
}

/** Coats of a piece by the same rule, nothing of them logged. */
function coatWorkOf(plan: PlanDocument, piece: string, pieceName: string): CoatWork[] {
  return plan.coats.map((coat, number) => ({
    piece,
    pieceName,
    coat: number,
    name: coat.name,
    kind: coat.kind,
    systemId: plan.material.id,
    volumeMm3: 500 * coat.thicknessMm,
    flangeMm3: 0,
    areaMm2: 500,
    densityGPerCm3: 2,
    massG: coat.thicknessMm,
    dryMassG: 0.9 * coat.thicknessMm,
    times: { workingMin: 15, partialCureMin: 30, fullCureMin: 60, latestOvercoatMin: null },
    laidG: 0,
    laidMm: 0,
    toLayG: coat.thicknessMm,
    thicknessMm: coat.thicknessMm,
    isDone: false,
  }));
}

export const fakePlan = (): PlanDocument => newPlan('bust.stl');
