import { describe, expect, it } from 'vitest';
import type { ProbeResult } from '../../../../src/core/PlanResult.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { LoggedBatch, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../../../src/core/plan/plainCoat.ts';
import { compareProbes } from '../../../../src/core/work/log/compareProbes.ts';
import { noteLog } from '../../../../src/core/work/log/noteLog.ts';
import { planCoatWork } from '../../../../src/core/work/log/planCoatWork.ts';
import { boxGround, boxPiece } from './boxGround.ts';

const PLAN: PlanDocument = {
  ...newPlan('box.stl'),
  coats: [plainCoat('Face', 'face', 4), plainCoat('Build', 'build', 6)],
};
const GROUND = boxGround(['A', 'B']);
const PLANNED = planCoatWork(PLAN, GROUND);

function batch(coat: number, share: number, piece = 'A'): LoggedBatch {
  const mixedG = share * PLANNED[coat].massG;
  return { piece, coat, number: 1, mixedG, leftG: 0, layMin: null, at: '' };
}

function planWith(log: Partial<PlanDocument['log']>): PlanDocument {
  return { ...PLAN, log: { ...PLAN.log, ...log } };
}

function notesOf(log: Partial<PlanDocument['log']>) {
  const plan = planWith(log);
  return noteLog(plan, planCoatWork(plan, GROUND));
}

describe('what the log leaves to be told', () => {
  it('nothing of a job as planned, begun or not', () => {
    expect(notesOf({})).toEqual([]);
    expect(notesOf({ batches: [batch(0, 1)] })).toEqual([]);
    expect(notesOf({ batches: [batch(0, 1), batch(1, 1)] })).toEqual([]);
    expect(notesOf({ closed: [{ piece: 'A', coat: 0 }] })).toEqual([]);
  });

  it('a coat that has nothing left to lay', () => {
    const [note, ...more] = notesOf({ batches: [batch(0, 3)] });
    expect(more).toEqual([]);
    expect(note).toMatchObject({ code: 'nothing-left', piece: 'A', coat: 1 });
    expect(note.text).toContain('Build on Piece A has nothing left to lay');
  });

  it('a coat that was passed over without a tick, or with too little', () => {
    expect(notesOf({ batches: [batch(1, 0.2)] })).toMatchObject([{ code: 'log-gap', piece: 'A', coat: 0 }]);
    const [short] = notesOf({ batches: [batch(0, 0.5), batch(1, 0.2)] });
    expect(short).toMatchObject({ code: 'log-gap', piece: 'A', coat: 0 });
    expect(short.text).toContain('4.0 mm were due');
    // Closed by hand: the user knows.
    expect(notesOf({ batches: [batch(0, 0.5), batch(1, 0.2)], closed: [{ piece: 'A', coat: 0 }] })).toEqual(
      [],
    );
  });

  it('a finished piece that came out thin', () => {
    const closed = [0, 1].map((coat) => ({ piece: 'B', coat }));
    const [note] = notesOf({ batches: [batch(0, 0.8, 'B'), batch(1, 0.7, 'B')], closed });
    expect(note).toMatchObject({ code: 'shell-short', piece: 'B', coat: null });
    expect(note.text).toContain('planned were 10.0 mm');
  });

  it('entries of a piece or a coat that is not in the plan', () => {
    const [note, ...more] = notesOf({ batches: [batch(0, 1, 'Q'), { ...batch(0, 1), coat: 9 }] });
    expect(more).toEqual([]);
    expect(note.code).toBe('log-stray');
    expect(note.text).toContain('2 batches');
    expect(note.text).toContain('piece Q, coat 1');
  });
});

describe('the pin’s second opinion', () => {
  const probe = (piece: string, predictedMm: number, ...measured: [number, number][]): ProbeResult => ({
    number: 1,
    piece,
    pointMm: [0, 0, 0],
    predictedMm,
    measured: measured.map(([coatsOn, thicknessMm]) => ({ coatsOn, thicknessMm })),
  });

  it('is measured over predicted, for as many coats as were on, as planned where nothing was weighed', () => {
    // 8 mm of 10 are predicted here; with the first coat of 4 mm, 3.2 mm.
    const probes = [probe('A', 8, [1, 3.2], [2, 8.8]), probe('B', 10, [2, 9])];
    const compared = compareProbes(PLAN, PLANNED, probes);
    expect(compared.map(({ coatsOn, count }) => [coatsOn, count])).toEqual([
      [1, 1],
      [2, 2],
    ]);
    expect(compared[0].meanRatio).toBeCloseTo(1, 12);
    expect(compared[1].meanRatio).toBeCloseTo((1.1 + 0.9) / 2, 12);
  });

  it('takes what was weighed for what is on', () => {
    const plan = planWith({ batches: [batch(0, 0.5)], closed: [{ piece: 'A', coat: 0 }] });
    const work = planCoatWork(plan, GROUND);
    const [compared] = compareProbes(plan, work, [probe('A', 10, [1, work[0].laidMm])]);
    expect(compared.meanRatio).toBeCloseTo(1, 9);
    expect(boxPiece('A').shellMm3(work[0].laidMm)).toBeCloseTo(boxPiece('A').shellMm3(4) / 2, 3);
  });

  it('is silent where nothing was measured', () => {
    expect(compareProbes(PLAN, PLANNED, [probe('A', 8)])).toEqual([]);
  });
});
