import { describe, expect, it } from 'vitest';
import {
  type AssembleInput,
  assembleResult,
  coatSteps,
  innerDistanceMm,
} from '../../src/core/assembleResult.ts';
import type { CoatTable } from '../../src/core/field/CoatTable.ts';
import { coatMix } from '../../src/core/material/coatMix.ts';
import { flangeDensity } from '../../src/core/material/flangeShares.ts';
import type { PartingStep } from '../../src/core/parting/planParting.ts';
import { allLoose } from '../../src/core/parting/types.ts';
import { NOT_JUDGED } from '../../src/core/resultOfUndercut.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { box } from '../fixtures/shapes.ts';
import { preparedFromMesh } from './parting/preparedFromMesh.ts';

/** A flat of an area about a centre: volume area times distance, the same at every resolution. */
function flatTable(areaMm2: number, centre: readonly [number, number, number]): CoatTable {
  const rows = new Float64Array(4 * 41);
  for (let k = 0; k <= 40; k++) {
    rows[4 * k] = areaMm2 * k * 0.5;
    for (let axis = 0; axis < 3; axis++) rows[4 * k + 1 + axis] = rows[4 * k] * centre[axis];
  }
  return { knotMm: 0.5, knotCount: 41, rows };
}

const TABLES = [flatTable(1000, [10, 0, 5]), flatTable(3000, [-10, 2, 5])];
const FLANGE = [flatTable(40, [0, 0, 5]), flatTable(40, [0, 0, 5])];
const PARTING = {
  cut: {
    regionCount: 2,
    positions: new Float64Array(0),
    indices: new Uint32Array(0),
    cutTriRegion: new Int32Array(0),
    parts: allLoose(0),
  },
  pieces: [
    { id: 'A', name: 'Front', pull: [1, 0, 0] },
    { id: 'B', name: 'Back', pull: [-1, 0, 0] },
  ],
  chains: [
    {
      path: 0,
      left: 0,
      right: 1,
      points: Float64Array.from([0, 0, 0, 0, 0, 30]),
      segments: Int32Array.from([0]),
      isClosed: false,
      lengthMm: 30,
    },
  ],
} as unknown as PartingStep;

const input = (changes: Partial<AssembleInput> = {}): AssembleInput => ({
  plan: shapePlan({ coatsMm: [2, 3], flange: { widthMm: 15, thicknessMm: 6 } }),
  scan: preparedFromMesh(box(10, 10, 10), true),
  parting: PARTING,
  areasMm2: [1000, 3000],
  bendsMm: [0, 0],
  shell: { fine: TABLES, coarse: TABLES, coarser: 2 },
  flange: { fine: FLANGE, coarse: FLANGE, coarser: 1.5, cellMm: 1 },
  thin: {
    reports: [
      { minMm: 4, areaBelowMm2: 1, spots: [] },
      { minMm: 5, areaBelowMm2: 0, spots: [] },
    ],
    filledMm3: null,
  },
  probes: [],
  pressure: null,
  judged: NOT_JUDGED,
  filler: null,
  cellMm: 1,
  isPreliminary: false,
  timesMs: { read: 0, repair: 0, field: 0, coats: 0, thin: 0, pieces: 0, undercut: 0, total: 0 },
  ...changes,
});

describe('assembleResult', () => {
  it('coats, flange, pieces and shell from the tables; centre of mass from their moments', () => {
    const given = input();
    const result = assembleResult(given);
    const [front, back] = result.pieces;
    expect(front.coats.map((coat) => coat.volumeMm3)).toEqual([2000, 3000]);
    expect(back.coats.map((coat) => coat.volumeMm3)).toEqual([6000, 9000]);
    // From the outermost coat at 5 mm to the flange's width of 15.
    expect(front.flange).toMatchObject({ lengthMm: 30, volumeMm3: 400 });
    expect(front.volumeMm3).toBe(5400);
    expect(result.shell.volumeMm3).toBe(5400 + 15400);
    const shellG = 5 * coatMix(given.plan, given.plan.coats[0]).mix.densityGPerCm3;
    const flangeG = 400 * flangeDensity(given.plan).wetGPerMm3;
    expect(front.massG).toBeCloseTo(shellG + flangeG, 9);
    expect(front.centreOfMassMm[0]).toBeCloseTo((10 * shellG) / (shellG + flangeG), 9);
    expect(front.centreOfMassMm[2]).toBeCloseTo(5, 9);
    expect(result.shell.massG).toBeCloseTo(front.massG + back.massG, 9);
    expect(result.partingLines).toEqual([
      {
        between: ['A', 'B'],
        lengthMm: 30,
        points: [
          [0, 0, 0],
          [0, 0, 30],
        ],
      },
    ]);
  });

  it('a flange no wider than the shell adds nothing', () => {
    const plan = shapePlan({ coatsMm: [2, 3], flange: { widthMm: 5, thicknessMm: 6 } });
    for (const piece of assembleResult(input({ plan })).pieces) expect(piece.flange.volumeMm3).toBe(0);
  });

  it('area that hole filling added widens the bound by itself times the thickness, shared by area', () => {
    const scan = preparedFromMesh(box(10, 10, 10), true);
    const plain = assembleResult(input());
    const filled = assembleResult(input({ scan: { ...scan, filledAreaMm2: 8 } }));
    const more = filled.pieces.map((piece, n) => piece.volumeErrorMm3 - plain.pieces[n].volumeErrorMm3);
    expect(more[0]).toBeCloseTo(2 * 5, 9);
    expect(more[1]).toBeCloseTo(6 * 5, 9);
  });

  it('over a bare pattern coats begin at the rubber’s thickness', () => {
    const plan = shapePlan({ coatsMm: [2, 3], scan: { is: 'pattern', rubberMm: 4 } });
    const result = assembleResult(input({ plan, flange: null }));
    expect(innerDistanceMm(plan)).toBe(4);
    expect(result.rubber.layer).toMatchObject({ thicknessMm: 4, volumeMm3: 16000 });
    expect(result.pieces[0].coats[0]).toMatchObject({ fromMm: 0, toMm: 2, volumeMm3: 2000 });
  });
});

it('coatSteps: each coat from the end of the one before', () => {
  const steps = coatSteps(shapePlan({ coatsMm: [1.5, 2.5, 3.5] }).coats);
  expect(steps.map((step) => [step.fromMm, step.toMm])).toEqual([
    [0, 1.5],
    [1.5, 4],
    [4, 7.5],
  ]);
});
