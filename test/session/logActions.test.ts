import { describe, expect, it } from 'vitest';
import type { LoggedBatch, PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import {
  addProbe,
  clearLog,
  closeCoat,
  logBatch,
  removeProbe,
  reopenCoat,
  unlogBatch,
} from '../../src/session/logActions.ts';
import { type PlanEdit, SessionStore } from '../../src/session/SessionStore.ts';
import { fakePlan } from './fakeAnswer.ts';

/** Applies actions one after another; each result must still be a plan that can be written and opened again. */
function run(...edits: PlanEdit[]): PlanDocument {
  let plan = fakePlan();
  for (const edit of edits) {
    plan = edit(plan);
    expect(parsePlan(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
  }
  return plan;
}

const BATCH: LoggedBatch = {
  piece: 'A',
  coat: 0,
  number: 1,
  mixedG: 1200,
  leftG: 40,
  layMin: 18,
  at: '2026-11-25T09:00:00Z',
};

describe('the log', () => {
  it('a ticked batch goes in, ticked again it is put right, and the tick can be taken away', () => {
    const second = { ...BATCH, number: 2 };
    expect(run(logBatch(BATCH), logBatch(second)).log.batches).toEqual([BATCH, second]);
    const right = { ...BATCH, mixedG: 1250 };
    expect(run(logBatch(BATCH), logBatch(second), logBatch(right)).log.batches).toEqual([right, second]);
    expect(run(logBatch(BATCH), logBatch(second), unlogBatch(BATCH)).log.batches).toEqual([second]);
  });

  it('a rest and minutes that were not taken are fine', () => {
    const bare = { ...BATCH, leftG: null, layMin: null };
    expect(run(logBatch(bare)).log.batches).toEqual([bare]);
  });

  it('numbers that cannot be are left unheard', () => {
    const odd: Partial<LoggedBatch>[] = [
      { mixedG: 0 },
      { mixedG: -5 },
      { mixedG: 1e12 },
      { mixedG: Number.NaN },
      { mixedG: Number.POSITIVE_INFINITY },
      { leftG: 1201 },
      { leftG: -1 },
      { leftG: Number.NaN },
      { layMin: 0 },
      { layMin: Number.NaN },
      { coat: -1 },
      { coat: 0.5 },
      { coat: 99 },
      { number: 0 },
    ];
    for (const change of odd) {
      expect(run(logBatch({ ...BATCH, ...change })).log.batches, JSON.stringify(change)).toEqual([]);
    }
  });

  it('a coat is closed once, and opened again', () => {
    const twice = run(closeCoat('A', 1), closeCoat('A', 1), closeCoat('B', 1));
    expect(twice.log.closed).toEqual([
      { piece: 'A', coat: 1 },
      { piece: 'B', coat: 1 },
    ]);
    expect(run(closeCoat('A', 1), closeCoat('B', 1), reopenCoat('A', 1)).log.closed).toEqual([
      { piece: 'B', coat: 1 },
    ]);
    expect(run(closeCoat('A', 99), closeCoat('A', -1), closeCoat('A', 0.5)).log.closed).toEqual([]);
  });

  it('a measured point goes in; measured again with as many coats on it takes the first one’s place', () => {
    const probe = { pointMm: [1, 2, 3] as const, thicknessMm: 4.2, coatsOn: 2 };
    const again = { ...probe, pointMm: [1, 2, 3.1] as const, thicknessMm: 4.4 };
    const later = { ...probe, coatsOn: 3, thicknessMm: 8 };
    const plan = run(addProbe(probe), addProbe(later), addProbe(again));
    expect(plan.log.probes).toEqual([later, again]);
    expect(run(addProbe(probe), addProbe(later), removeProbe(0)).log.probes).toEqual([later]);
    for (const odd of [
      { thicknessMm: 0 },
      { thicknessMm: 5000 },
      { thicknessMm: Number.NaN },
      { coatsOn: 0 },
      { coatsOn: 99 },
      { coatsOn: 1.5 },
    ]) {
      expect(run(addProbe({ ...probe, ...odd })).log.probes, JSON.stringify(odd)).toEqual([]);
    }
    expect(run(addProbe({ ...probe, pointMm: [Number.NaN, 0, 0] })).log.probes).toEqual([]);
  });

  it('is cleared as a whole, and an undo brings it back', () => {
    const store = new SessionStore(fakePlan());
    store.edit(logBatch(BATCH));
    store.edit(closeCoat('A', 0));
    store.edit(clearLog());
    expect(store.state.plan.log).toEqual({ batches: [], probes: [], closed: [] });
    store.undo();
    expect(store.state.plan.log.batches).toEqual([BATCH]);
  });
});
