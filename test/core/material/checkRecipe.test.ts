import { describe, expect, it } from 'vitest';
import { findMaterial } from '../../../src/core/material/builtInMaterials.ts';
import { checkRecipe } from '../../../src/core/material/checkRecipe.ts';
import { mixOf } from '../../../src/core/material/mixOf.ts';
import type { CoatPlan } from '../../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../../src/core/plan/plainCoat.ts';
import { TRADE_COATS, tradeGypsum } from '../../fixtures/tradeGypsum.ts';

const strict = {
  ...tradeGypsum,
  additives: tradeGypsum.additives.map((one) => ({ ...one, leastShare: 0.01 })),
};
const dosed = (name: string, doseShare: number): CoatPlan => ({
  ...plainCoat('Build', 'build', 2),
  additives: [{ name, doseShare }],
});
const reinforced = (reinforcementShare: number | null): CoatPlan => ({
  ...plainCoat('Third', 'reinforced', 3),
  reinforcementShare,
});

describe('limits of a recipe', () => {
  it('the trade’s four coats keep within them', () => {
    for (const coat of TRADE_COATS) expect(checkRecipe(tradeGypsum, coat)).toEqual([]);
  });

  it('over the most: names dose, base, limit and basis; and nothing is clipped', () => {
    const coat = dosed('thickener', 0.03);
    expect(checkRecipe(tradeGypsum, coat)).toEqual([
      {
        code: 'dose-over',
        text: 'Coat “Build”: thickener at 3 % of the liquid is over the most, 2.5 % (common practice, no source: check values from the trade).',
      },
    ]);
    const { shares } = mixOf(tradeGypsum, coat);
    expect(shares['thickener'] / shares['liquid']).toBeCloseTo(0.03, 12);
  });
  it('at the limit itself, typed in per cent, there is nothing to say', () => {
    expect(checkRecipe(tradeGypsum, dosed('thickener', 2.5 / 100))).toEqual([]);
    expect(checkRecipe(tradeGypsum, dosed('thickener', 0.025 + 1e-16))).toEqual([]);
    expect(checkRecipe(tradeGypsum, dosed('thickener', 0.0251)).map((note) => note.code)).toEqual([
      'dose-over',
    ]);
  });
  it('under the least; a dose of nothing is no dose', () => {
    const [note] = checkRecipe(strict, dosed('thickener', 0.004));
    expect(note.code).toBe('dose-under');
    expect(note.text).toContain('thickener at 0.4 % of the liquid is under the least, 1 %');
    expect(checkRecipe(strict, dosed('thickener', 0))).toEqual([]);
  });
  it('an additive of another system is named, with what there is', () => {
    const [note] = checkRecipe(tradeGypsum, dosed('fumed silica', 0.02));
    expect(note.code).toBe('additive-unknown');
    expect(note.text).toContain('“fumed silica”');
    expect(note.text).toContain('thickener, accelerator');
  });

  it('reinforcement over, under and at 3 to 12 %', () => {
    const codes = (share: number | null) =>
      checkRecipe(tradeGypsum, reinforced(share)).map((note) => note.code);
    expect(codes(0.15)).toEqual(['reinforcement-over']);
    expect(codes(0.12)).toEqual([]);
    expect(codes(null)).toEqual([]);
    expect(codes(0.03)).toEqual([]);
    expect(codes(0.01)).toEqual(['reinforcement-under']);
    expect(codes(0)).toEqual(['reinforcement-under']);
    expect(checkRecipe(tradeGypsum, reinforced(0.15))[0].text).toContain('12 % (common practice, no source');
  });
  it('a plain coat without any is well; fibre in it is held to the same limit', () => {
    expect(checkRecipe(tradeGypsum, plainCoat('Face', 'face', 2))).toEqual([]);
    const hairy = { ...plainCoat('Face', 'face', 2), reinforcementShare: 0.2 };
    expect(checkRecipe(tradeGypsum, hairy).map((note) => note.code)).toEqual(['reinforcement-over']);
  });
  it('a reinforced coat of a system that has none', () => {
    const rubber = findMaterial('brushable-rubber');
    if (rubber === undefined) throw new Error('the built-in rubber is gone');
    expect(checkRecipe(rubber, reinforced(null)).map((note) => note.code)).toEqual(['reinforcement-missing']);
    expect(checkRecipe(rubber, plainCoat('Face', 'face', 2))).toEqual([]);
  });
  it('a value without a basis is said to have none', () => {
    const [note] = checkRecipe({ ...tradeGypsum, basis: {} }, dosed('thickener', 0.03));
    expect(note.text).toContain('(no basis is given)');
  });
});
