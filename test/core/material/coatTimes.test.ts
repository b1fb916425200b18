import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_MATERIAL } from '../../../src/core/material/builtInMaterials.ts';
import { coatTimes } from '../../../src/core/material/coatTimes.ts';
import { doseMinutes } from '../../../src/core/material/doseMinutes.ts';
import type { Additive, MaterialLot, MaterialSystem } from '../../../src/core/material/MaterialSystem.ts';
import type { AdditiveDose, CoatPlan } from '../../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../../src/core/plan/plainCoat.ts';
import { TRADE_COATS, tradeGypsum } from '../../fixtures/tradeGypsum.ts';
import { withLot } from '../../fixtures/withLot.ts';

const [thickener, accelerator] = tradeGypsum.additives;
const points = (...list: [doseShare: number, minutes: number][]) =>
  list.map(([doseShare, minutes]) => ({ doseShare, minutes }));

function coat(additives: readonly AdditiveDose[], more: Partial<CoatPlan> = {}): CoatPlan {
  return { ...plainCoat('Build', 'build', 2), additives, ...more };
}

function withAdditives(...additives: readonly Additive[]): MaterialSystem {
  return { ...tradeGypsum, additives };
}

const LOT: MaterialLot = {
  lot: 'L7',
  densityGPerCm3: null,
  workingMin: 24,
  partialCureMin: null,
  fullCureMin: 100,
};

describe('times of the trade’s plan (common practice, no source)', () => {
  it('30 min to work and 90 to cure plain; 7 and 35 with 5 % of the accelerator', () => {
    expect(coatTimes(tradeGypsum, coat([])).times).toEqual({
      workingMin: 30,
      partialCureMin: 60,
      fullCureMin: 90,
      latestOvercoatMin: null,
    });
    const fast = coatTimes(tradeGypsum, coat([{ name: 'accelerator', doseShare: 0.05 }]));
    expect(fast.times).toMatchObject({ workingMin: 7, partialCureMin: 30, fullCureMin: 35 });
    expect(fast.notes).toEqual([]);
  });

  it('60, 60 and 30 min between the four coats, 90 before the shims come out', () => {
    const all = TRADE_COATS.map((one) => coatTimes(tradeGypsum, one).times);
    expect(all.slice(0, 3).map((times) => times.partialCureMin)).toEqual([60, 60, 30]);
    expect(all[3].fullCureMin).toBe(90);
  });
});

describe('doses between and beyond the points', () => {
  const stepped = withAdditives(
    {
      ...thickener,
      effects: {
        workingMin: points([0.01, 36], [0.02, 50]),
        partialCureMin: points([0, 66], [0.02, 90]),
        fullCureMin: [],
      },
    },
    accelerator,
  );
  const at = (doseShare: number) => coatTimes(stepped, coat([{ name: 'thickener', doseShare }]));

  it('lie on straight lines, the plain time being the point at dose 0', () => {
    expect(at(0.005).times.workingMin).toBeCloseTo(33, 12);
    expect(at(0.01).times.workingMin).toBeCloseTo(36, 12);
    expect(at(0.015).times.workingMin).toBeCloseTo(43, 12);
    expect(at(0.02).times.workingMin).toBeCloseTo(50, 12);
  });
  it('a list with its own point at dose 0 starts there', () => {
    expect(at(0.01).times.partialCureMin).toBeCloseTo(78, 12);
  });
  it('a time without points stays as it is, and a note says so', () => {
    expect(at(0.01).times.fullCureMin).toBe(90);
    expect(at(0.01).notes).toEqual([
      {
        code: 'dose-unknown',
        text: 'Coat “Build”: what thickener does to full cure is not given; counted as without it. Time a cup at 1 % and add the point.',
      },
    ]);
  });
  it('beyond the last point the nearest stands, and a note names additive, dose, range and what was taken', () => {
    const { times, notes } = at(0.024);
    expect(times.workingMin).toBe(50);
    expect(times.partialCureMin).toBe(90);
    const beyond = notes.filter((note) => note.text.includes('only'));
    expect(beyond).toHaveLength(1);
    expect(beyond[0].code).toBe('dose-unknown');
    expect(beyond[0].text).toContain('thickener at 2.4 %');
    expect(beyond[0].text).toContain('working time and partial cure are given from 0 % to 2 % only');
    expect(beyond[0].text).toContain('50 min and 90 min');
    expect(beyond[0].text).toContain('add the point');
  });
  it('a dose of nothing does nothing; an additive that the system does not know does nothing', () => {
    for (const name of ['thickener', 'salt']) {
      const { times, notes } = coatTimes(stepped, coat([{ name, doseShare: name === 'salt' ? 0.02 : 0 }]));
      expect(times).toMatchObject({ workingMin: 30, partialCureMin: 60, fullCureMin: 90 });
      expect(notes).toEqual([]);
    }
  });

  it('never leave the range of the points about them (seed 4)', () => {
    const ascending = fc
      .uniqueArray(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 8 })
      .chain((doses) =>
        fc.tuple(
          fc.constant(doses.sort((a, b) => a - b)),
          fc.array(fc.double({ min: 0.1, max: 500, noNaN: true }), {
            minLength: doses.length,
            maxLength: doses.length,
          }),
        ),
      );
    fc.assert(
      fc.property(
        ascending,
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 1.2, noNaN: true }),
        ([doses, minutes], plainMin, doseShare) => {
          const list = doses.map((dose, i) => ({ doseShare: dose / 1000, minutes: minutes[i] }));
          const got = doseMinutes(list, plainMin, doseShare);
          if (!got) throw new Error('a list with points has a time');
          const all = [plainMin, ...minutes];
          expect(got.minutes).toBeGreaterThanOrEqual(Math.min(...all) - 1e-9);
          expect(got.minutes).toBeLessThanOrEqual(Math.max(...all) + 1e-9);
          const last = list[list.length - 1];
          expect(got.takenAtShare).toBe(doseShare > last.doseShare ? last.doseShare : null);
          // At a point it is the point.
          for (const point of list)
            expect(doseMinutes(list, plainMin, point.doseShare)?.minutes).toBeCloseTo(point.minutes, 9);
        },
      ),
      { seed: 4, numRuns: 200 },
    );
  });
});

describe('several at once', () => {
  const slow: Additive = {
    ...thickener,
    effects: { workingMin: points([0.02, 45]), partialCureMin: points([0.02, 90]), fullCureMin: [] },
  };
  const both = coat([
    { name: 'thickener', doseShare: 0.02 },
    { name: 'accelerator', doseShare: 0.05 },
  ]);

  it('two additives: ratios to the plain time multiplied, and called an assumption', () => {
    const { times, notes } = coatTimes(withAdditives(slow, accelerator), both);
    // By hand: 30 x 45/30 x 7/30 and 60 x 90/60 x 30/60; only one of them says anything of the full cure.
    expect(times.workingMin).toBeCloseTo(10.5, 12);
    expect(times.partialCureMin).toBeCloseTo(45, 12);
    expect(times.fullCureMin).toBe(35);
    const assumed = notes.filter((note) => note.code === 'effects-multiplied');
    expect(assumed).toHaveLength(1);
    expect(assumed[0].text).toContain('working time and partial cure with thickener and accelerator');
    expect(assumed[0].text).toContain('assumption, no source');
  });
  it('in whichever order they are written', () => {
    const system = withAdditives(slow, accelerator);
    const turned = coat([...both.additives].reverse());
    expect(coatTimes(system, turned).times).toEqual(coatTimes(system, both).times);
  });
});

describe('what stands before the system’s times', () => {
  const fast = [{ name: 'accelerator', doseShare: 0.05 }];
  it('a lot’s measured ones, where they were measured', () => {
    const { times, notes } = coatTimes(withLot(tradeGypsum, LOT), coat([]));
    expect(times).toMatchObject({ workingMin: 24, partialCureMin: 60, fullCureMin: 100 });
    expect(notes).toEqual([]);
  });
  it('a lot that is not in use does not', () => {
    const kept = { ...withLot(tradeGypsum, LOT), lotInUse: null };
    expect(coatTimes(kept, coat([])).times.workingMin).toBe(30);
  });
  it('an additive on a lot: its ratio on the measured time, and called an assumption', () => {
    const { times, notes } = coatTimes(withLot(tradeGypsum, LOT), coat(fast));
    expect(times.workingMin).toBeCloseTo((24 * 7) / 30, 12);
    // Not measured on the lot: the additive's own point.
    expect(times.partialCureMin).toBe(30);
    expect(times.fullCureMin).toBeCloseTo((100 * 35) / 90, 12);
    expect(notes.map((note) => note.code)).toEqual(['effects-multiplied']);
    expect(notes[0].text).toContain('lot L7');
  });
  it('the coat’s own wait before the partial cure, and only that', () => {
    const { times } = coatTimes(withLot(tradeGypsum, LOT), coat(fast, { waitMin: 50 }));
    expect(times.partialCureMin).toBe(50);
    expect(times.workingMin).toBeCloseTo(5.6, 12);
  });
  it('a lot measured again takes its own place', () => {
    const once = withLot(DEFAULT_MATERIAL, LOT);
    const twice = withLot(once, { ...LOT, workingMin: 26 });
    expect(twice.lots).toHaveLength(1);
    expect(coatTimes(twice, coat([])).times.workingMin).toBe(26);
    expect(withLot(twice, { ...LOT, lot: 'L8' }).lots.map((one) => one.lot)).toEqual(['L7', 'L8']);
  });
});
