import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import {
  addScale,
  removeScale,
  setBatches,
  setBucket,
  setBucketFill,
  setHands,
  setMargin,
  setMixer,
  setPace,
  setRatioTolerance,
  setScaleValues,
} from '../../src/session/benchActions.ts';
import type { PlanEdit } from '../../src/session/SessionStore.ts';
import {
  setCurrency,
  setFastener,
  setRelease,
  setShim,
  setStock,
  stockOf,
} from '../../src/session/supplyActions.ts';
import { fakePlan } from './fakeAnswer.ts';
import { runEdits } from './runEdits.ts';

const run = (...edits: PlanEdit[]): PlanDocument => runEdits(fakePlan(), ...edits);

/** Edits that must leave the plan as it is. */
function expectUnheard(...edits: PlanEdit[]): void {
  for (const edit of edits) expect(JSON.stringify(edit(fakePlan()))).toBe(JSON.stringify(fakePlan()));
}

describe('the bench', () => {
  it('takes the shop’s own figures', () => {
    const { bench } = run(
      setBucket(8000),
      setBucketFill(0.5),
      setMixer(6000),
      setHands(2),
      setMargin(3),
      setRatioTolerance(0.01),
      setPace('face', 150),
      setBatches('full-and-rest'),
      setScaleValues(0, { mostG: 10_000, stepG: 2 }),
      addScale(),
      setScaleValues(2, { name: 'pocket scale', mostG: 100, stepG: 0.01 }),
    );
    expect(bench).toMatchObject({
      bucketMl: 8000,
      bucketFillShare: 0.5,
      mixerMostG: 6000,
      hands: 2,
      marginMin: 3,
      ratioTolerance: 0.01,
      batches: 'full-and-rest',
    });
    expect(bench.paceCm2PerMin).toEqual({ ...fakePlan().bench.paceCm2PerMin, face: 150 });
    expect(bench.scales.map((scale) => scale.stepG)).toEqual([2, 0.1, 0.01]);
  });

  it('leaves what cannot be unheard; the last scale stays', () => {
    expectUnheard(
      setBucket(0),
      setBucketFill(1.2),
      setMixer(-1),
      setHands(1.5),
      setHands(0),
      setMargin(-1),
      setRatioTolerance(0),
      setPace('build', 0),
      setScaleValues(0, { stepG: 0 }),
      setScaleValues(0, { stepG: 6000 }),
    );
    expect(run(removeScale(0), removeScale(0)).bench.scales).toHaveLength(1);
  });
});

describe('supplies and stock', () => {
  it('takes shims, release, fasteners and prices', () => {
    const { supplies } = run(
      setCurrency('EUR'),
      setShim({ stripLengthMm: 500, packPrice: 6.5 }),
      setRelease({ coats: 2, packs: [{ massG: 400, price: 9 }] }),
      setFastener({ workingLoadN: 800, mostSpacingMm: 120 }),
    );
    expect(supplies).toMatchObject({
      currency: 'EUR',
      shim: { stripLengthMm: 500, packPrice: 6.5 },
      release: { coats: 2, packs: [{ massG: 400, price: 9 }] },
      fastener: { workingLoadN: 800, mostSpacingMm: 120 },
    });
  });

  it('leaves what cannot be unheard', () => {
    expectUnheard(
      setShim({ overlapMm: 300 }),
      setShim({ packPrice: -1 }),
      setShim({ stripsPerPack: 2.5 }),
      setRelease({ coverageM2PerKg: 0 }),
      setRelease({ packs: [{ massG: 0, price: null }] }),
      setFastener({ perPack: 0 }),
      setStock('powder', -5),
    );
  });

  it('stock of an item: none is an answer, not knowing is another', () => {
    const plan = run(setStock('powder', 4200), setStock('liquid', 0), setStock('powder', 4000));
    expect(stockOf(plan, 'powder')).toBe(4000);
    expect(stockOf(plan, 'liquid')).toBe(0);
    expect(stockOf(plan, 'fibre')).toBeNull();
    expect(plan.stock).toHaveLength(2);
    expect(runEdits(plan, setStock('powder', null)).stock).toEqual([{ item: 'liquid', massG: 0 }]);
  });
});
