import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import {
  setAttitude,
  setCastWall,
  setPourDensity,
  setPourLevel,
  setRubberWall,
} from '../../src/session/castingActions.ts';
import {
  movePieceInOrder,
  orderOfPieces,
  setStartDate,
  setStepMinutes,
  setWeekends,
  setWorkingHours,
} from '../../src/session/dayActions.ts';
import {
  setGrip,
  setLiftHeights,
  setLiftsPerMin,
  setReach,
  setTwist,
} from '../../src/session/liftingActions.ts';
import type { PlanEdit } from '../../src/session/SessionStore.ts';
import { fakePlan } from './fakeAnswer.ts';

/** Applies actions one after another; each result must still be a plan that can be written and opened again. */
function run(...edits: PlanEdit[]): PlanDocument {
  return edits.reduce((plan, edit) => {
    const before = JSON.stringify(plan);
    const next = edit(plan);
    expect(JSON.stringify(plan)).toBe(before);
    expect(parsePlan(JSON.parse(JSON.stringify(next)))).toEqual(next);
    return next;
  }, fakePlan());
}

describe('actions on the day', () => {
  it('takes a date, hours, weekends and minutes of a step', () => {
    const { day } = run(
      setStartDate('2026-12-01'),
      setWorkingHours(7 * 60, 15 * 60 + 30),
      setWeekends(true),
      setStepMinutes('releaseDry', 30),
    );
    expect(day).toMatchObject({ startDate: '2026-12-01', fromMin: 420, toMin: 930, weekends: true });
    expect(day.stepMin.releaseDry).toBe(30);
    expect(run(setStartDate('2026-12-01'), setStartDate(null)).day.startDate).toBeNull();
  });

  it('leaves unheard what no calendar, no clock and no step can have', () => {
    const plan = fakePlan();
    for (const edit of [
      setStartDate('2026-02-30'),
      setStartDate('tomorrow'),
      setWorkingHours(600, 600),
      setWorkingHours(600, 1500),
      setWorkingHours(-10, 300),
      setWorkingHours(Number.NaN, 300),
      setStepMinutes('open', -1),
      setStepMinutes('open', Number.NaN),
      setStepMinutes('open', 1e6),
    ]) {
      expect(edit(plan)).toBe(plan);
    }
  });

  it('moves a piece in the order, and fills up an order that names a piece that is gone', () => {
    const pieces = ['A', 'B', 'C'];
    const plan = run(movePieceInOrder(pieces, 'C', -1));
    expect(plan.day.order).toEqual(['A', 'C', 'B']);
    expect(movePieceInOrder(pieces, 'A', -1)(plan).day.order).toEqual(['A', 'C', 'B']);
    expect(orderOfPieces({ ...plan.day, order: ['D', 'B', 'B'] }, pieces)).toEqual(['B', 'A', 'C']);
  });
});

describe('actions on filling and lifting', () => {
  it('takes what is poured, how it stands, how high, how thick', () => {
    const { casting } = run(
      setPourDensity(2.4),
      setAttitude('foot-up'),
      setPourLevel(250),
      setCastWall(12),
      setRubberWall(8),
    );
    expect(casting).toEqual({
      densityGPerCm3: 2.4,
      attitude: 'foot-up',
      levelMm: 250,
      wallMm: 12,
      rubberMm: 8,
    });
    expect(run(setPourLevel(250), setPourLevel('full'), setCastWall(null)).casting).toMatchObject({
      levelMm: 'full',
      wallMm: null,
    });
  });

  it('takes how it is lifted', () => {
    const { lifting } = run(
      setReach(400),
      setLiftHeights(100, 900),
      setTwist(30),
      setGrip('poor'),
      setLiftsPerMin(0.5),
    );
    expect(lifting).toMatchObject({
      horizontalMm: 400,
      fromMm: 100,
      toMm: 900,
      asymmetryDeg: 30,
      grip: 'poor',
      liftsPerMin: 0.5,
    });
  });

  it('leaves unheard what cannot be: no density, a level below the foot, a turn past 135 degrees (NIOSH 94-110)', () => {
    const plan = fakePlan();
    for (const edit of [
      setPourDensity(0),
      setPourDensity(2400),
      setPourDensity(Number.NaN),
      setPourLevel(0),
      setCastWall(-1),
      setRubberWall(0),
      setReach(0),
      setLiftHeights(-1, 900),
      setTwist(136),
      setLiftsPerMin(0),
      setLiftsPerMin(16),
    ]) {
      expect(edit(plan)).toBe(plan);
    }
  });
});
