import { describe, expect, it } from 'vitest';
import type { BatchResult } from '../../../src/core/PlanResult.ts';
import { sayMinutes } from '../../../src/report/sayClock.ts';
import { sayMoney } from '../../../src/report/sayMoney.ts';
import { readDecimal } from '../../../src/ui/fields/readDecimal.ts';
import { groupBatches } from '../../../src/ui/panels/mix/groupBatches.ts';
import { lotsOf } from '../../../src/ui/panels/mix/lotsOf.ts';
import { percentOf, sayPercent, shareOfPercent } from '../../../src/ui/panels/mix/sayPercent.ts';
import { sayBase, sayWith } from '../../../src/ui/panels/mix/sayRecipe.ts';
import { sayWeighing } from '../../../src/ui/panels/mix/sayWeighing.ts';
import { shopUnit } from '../../../src/ui/panels/mix/shopUnits.ts';

describe('numbers typed on the stage Mix', () => {
  it('takes a comma or a point for the decimal mark and refuses what reads two ways', () => {
    expect(readDecimal('9,5')).toEqual({ value: 9.5 });
    expect(readDecimal(' 0,125 ')).toEqual({ value: 0.125 });
    expect(readDecimal('\u22122')).toEqual({ value: -2 });
    expect(readDecimal('1.250')).toEqual({ value: 1.25 });
    for (const text of ['1,250', '', '2 %', '1e3', '0x10', 'Infinity', '1,2,3', '--2', '.']) {
      expect(readDecimal(text), text).toHaveProperty('problem');
    }
  });

  it('a percentage typed is the share that a plan file would hold', () => {
    for (const [percent, share] of [
      [2.5, 0.025],
      [0.1, 0.001],
      [5.7, 0.057],
      [100, 1],
    ]) {
      expect(shareOfPercent(percent)).toBe(share);
      expect(percentOf(share)).toBe(percent);
    }
    expect(sayPercent(0.025)).toBe('2.5\u00a0%');
  });

  it('shop units against their definitions: NIST Handbook 44, Appendix C, and SP 811, Appendix B', () => {
    // A quart is 946.352946 ml, a square inch 6.4516 cm2, ft2/lb is 0.2048161 m2/kg, a pound-force 4.4482216 N.
    expect(shopUnit('bucket', 'us').per).toBeCloseTo(946.352946, 5);
    expect(shopUnit('pace', 'us').per).toBeCloseTo(6.4516, 10);
    expect(shopUnit('coverage', 'us').per).toBeCloseTo(0.2048161, 6);
    expect(shopUnit('load', 'us').per).toBeCloseTo(4.4482216, 6);
    // 1 oz/ft2 is 305.152 g/m2 and never 1 oz/yd2, which is 33.9057.
    expect(shopUnit('areal', 'us').per).toBeCloseTo(305.152, 3);
  });
});

describe('words', () => {
  it('trade words for what is in a coat', () => {
    expect(sayWith('thickener')).toBe('thickened');
    expect(sayWith('accelerator')).toBe('accelerated');
    expect(sayWith('pigment')).toBe('with pigment');
    expect(sayBase({ base: 'liquid' })).toBe('of the liquid');
    expect(sayBase({ base: 'mix' })).toBe('of the mix');
  });

  it('weighings stay in grams to the scale’s step; times and money for people', () => {
    expect(sayWeighing(1234)).toBe('1\u202f234');
    expect(sayWeighing(4.2)).toBe('4.2');
    expect(sayMinutes(7)).toBe('7\u00a0min');
    expect(sayMinutes(95)).toBe('1\u00a0h 35\u00a0min');
    expect(sayMinutes(24 * 60)).toBe('24\u00a0h');
    expect(sayMinutes(51 * 60)).toBe('2\u00a0days 3\u00a0h');
    expect(sayMinutes(59.7)).toBe('1\u00a0h');
    expect(sayMoney(1234.5, 'EUR')).toBe('1\u202f234.50\u00a0EUR');
    expect(sayMoney(3, '')).toBe('3.00');
  });
});

describe('lotsOf', () => {
  it('the newest job’s values of a lot, of this system alone', () => {
    const lot = (name: string, densityGPerCm3: number) => ({
      lot: name,
      densityGPerCm3,
      workingMin: null,
      partialCureMin: null,
      fullCureMin: null,
    });
    const jobs = [
      { lots: [{ systemId: 'gypsum', lot: lot('L 7', 1.81) }] },
      {
        lots: [
          { systemId: 'gypsum', lot: lot('L 7', 1.7) },
          { systemId: 'gypsum', lot: lot('L 6', 1.75) },
          { systemId: 'epoxy', lot: lot('E 1', 1.1) },
        ],
      },
    ];
    expect(lotsOf(jobs, 'gypsum')).toEqual([lot('L 7', 1.81), lot('L 6', 1.75)]);
  });
});

describe('groupBatches', () => {
  const batch = (
    piece: string,
    coatNumber: number,
    number: number,
    powder: number,
    loggedG: number | null = null,
  ) =>
    ({
      piece,
      coat: `coat ${coatNumber}`,
      coatNumber,
      number,
      componentsG: { powder, liquid: 100 },
      mixedG: powder + 100,
      steps: [{ item: 'liquid', massG: 100, scale: 's', say: '' }],
      loggedG,
    }) as unknown as BatchResult;

  it('neighbours weighed alike stand together; a rest, a ticked one and another coat stand apart', () => {
    const batches = [
      batch('A', 0, 1, 250, 340),
      batch('A', 0, 2, 250),
      batch('A', 0, 3, 250),
      batch('A', 0, 4, 90),
      batch('A', 1, 1, 250),
      batch('B', 0, 1, 250),
    ];
    const grouped = groupBatches({ batches, pieces: [] });
    expect(grouped.map((piece) => [piece.id, piece.coats.length])).toEqual([
      ['A', 2],
      ['B', 1],
    ]);
    const [first] = grouped[0].coats;
    expect(first.runs.map((run) => [run.first, run.last, run.logged])).toEqual([
      [1, 1, 1],
      [2, 3, 0],
      [4, 4, 0],
    ]);
    // What goes in first stands first, whatever the table of masses says.
    expect(first.items).toEqual(['liquid', 'powder']);
    expect(first.mixedG).toBe(350 * 3 + 190);
  });
});
