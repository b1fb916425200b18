import { describe, expect, it } from 'vitest';
import type { BatchResult } from '../../../../src/core/PlanResult.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { LoggedBatch, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../../../src/core/plan/plainCoat.ts';
import { learnFromLog } from '../../../../src/core/work/log/learnFromLog.ts';
import { planCoatWork } from '../../../../src/core/work/log/planCoatWork.ts';
import { boxGround } from './boxGround.ts';

const PLAN: PlanDocument = {
  ...newPlan('box.stl'),
  coats: [plainCoat('Face', 'face', 4), plainCoat('Build', 'build', 6)],
};
const GROUND = boxGround(['A']);
const PLANNED = planCoatWork(PLAN, GROUND);

/** Of `of` equal batches that lay all of the coat, the one of this number, with so much left. */
function batch(
  coat: number,
  number: number,
  of: number,
  leftG: number | null,
  layMin: number | null,
): LoggedBatch {
  const laidG = PLANNED[coat].massG / of;
  return {
    piece: 'A',
    coat,
    number,
    mixedG: laidG + (leftG ?? 0),
    leftG,
    layMin,
    at: '2026-11-25T09:00:00Z',
  };
}

function learn(batches: readonly LoggedBatch[], hands = 1, planned: readonly BatchResult[] = []) {
  const plan = { ...PLAN, bench: { ...PLAN.bench, hands }, log: { ...PLAN.log, batches } };
  return learnFromLog(plan, planCoatWork(plan, GROUND), planned);
}

/** A batch as planned; only its times matter here. */
function planned(coat: number, number: number, workingTimeMin: number, mixMin: number): BatchResult {
  return {
    piece: 'A',
    coat: PLAN.coats[coat].name,
    coatNumber: coat,
    number,
    of: 4,
    componentsG: {},
    mixedG: 1,
    laidG: 1,
    volumeMl: 1,
    areaMm2: 1,
    steps: [],
    workingTimeMin,
    mixMin,
    layMin: 1,
    ratioOff: 0,
    loggedG: null,
  };
}

describe('what a log teaches', () => {
  it('waste: the median of what was left, from three weighed batches on', () => {
    expect(learn([batch(0, 1, 4, 80, null), batch(0, 2, 4, 90, null)]).wastePerBatchG).toBeNull();
    const { wastePerBatchG } = learn([80, 90, 100, 95].map((left, i) => batch(0, i + 1, 4, left, null)));
    expect(wastePerBatchG?.median).toBe(92.5);
    expect(wastePerBatchG?.count).toBe(4);
    // A rest that was not weighed says nothing of the waste.
    expect(
      learn([batch(0, 1, 4, 80, null), batch(0, 2, 4, 90, null), batch(0, 3, 4, null, 9)]).wastePerBatchG,
    ).toBeNull();
  });

  it('one batch that was thrown away is named and does not move the median', () => {
    const { wastePerBatchG } = learn([80, 85, 90, 84, 900].map((left, i) => batch(0, i + 1, 5, left, null)));
    expect(wastePerBatchG?.median).toBe(85);
    expect(wastePerBatchG?.outliers).toEqual([{ of: { piece: 'A', coat: 0, number: 5 }, value: 900 }]);
  });

  it('pace: a batch’s share of the coat’s area over its minutes, by kind and by pair of hands', () => {
    const four = [20, 20, 25, 20].map((min, i) => batch(0, i + 1, 4, 0, min));
    const areaCm2 = PLANNED[0].areaMm2 / 100 / 4;
    const { paceCm2PerMin } = learn([...four, batch(1, 1, 4, 0, 30)]);
    expect(paceCm2PerMin.face?.median).toBeCloseTo(areaCm2 / 20, 6);
    expect(paceCm2PerMin.face?.count).toBe(4);
    expect(paceCm2PerMin.build).toBeUndefined();
    expect(learn(four, 2).paceCm2PerMin.face?.median).toBeCloseTo(areaCm2 / 40, 6);
  });

  it('a coat under way has its whole area only when the rest is on', () => {
    const { paceCm2PerMin } = learn([1, 2, 3].map((n) => batch(0, n, 4, 0, 20)));
    expect(paceCm2PerMin.face?.median).toBeCloseTo(PLANNED[0].areaMm2 / 100 / 4 / 20, 6);
  });

  it('says of how many batches the working time was over', () => {
    const plans = [1, 2, 3].map((n) => planned(0, n, 30, 5));
    const times = (...min: number[]) =>
      learn(
        min.map((m, i) => batch(0, i + 1, 4, 0, m)),
        1,
        plans,
      ).workingNote;
    expect(times(25, 20, 10)).toBeNull();
    expect(times(26, 20, 40)).toContain('2 of 3 timed batches');
  });

  it('a batch of a piece that is no more teaches nothing', () => {
    const strays = [1, 2, 3].map((n) => ({ ...batch(0, n, 4, 80, 20), piece: 'Z' }));
    expect(learn(strays)).toEqual({ wastePerBatchG: null, paceCm2PerMin: {}, workingNote: null });
  });
});
