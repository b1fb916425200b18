import { describe, expect, it } from 'vitest';
import { mixedMass } from '../../src/core/material/coatMass.ts';
import { mixShares } from '../../src/ui/mixShares.ts';
import { sayBound, sayChange, sayShareBound } from '../../src/ui/sayAmounts.ts';
import { sumCoats } from '../../src/ui/sumCoats.ts';
import { fakeAnswer, fakePlan } from '../session/fakeAnswer.ts';

describe('mixShares', () => {
  it('shares masses out as the core does', () => {
    const plan = fakePlan();
    const { result } = fakeAnswer(plan, 1);
    const { rows, total } = mixShares(result, plan.material);
    sumCoats(result).forEach((coat, i) => {
      // The core works from volumes; the same volume that weighs coat.massG must give the same shares.
      const perMm3 = mixedMass(plan.material, plan.coats[i].kind, 1).massG / (1 + plan.material.lossShare);
      const core = mixedMass(plan.material, plan.coats[i].kind, coat.massG / perMm3);
      expect(rows[i].mixedG).toBeCloseTo(core.massG, 9);
      plan.material.components.forEach((component, k) => {
        expect(rows[i].componentsG[k]).toBeCloseTo(core.componentsG[component.name], 9);
      });
      expect(rows[i].fibreG).toBeCloseTo(core.componentsG['fibre'] ?? 0, 9);
    });
    const laidUpG = result.pieces.reduce((sum, p) => sum + p.massG, 0);
    expect(total.mixedG).toBeCloseTo(laidUpG * (1 + plan.material.lossShare), 9);
    expect(total.componentsG.reduce((a, b) => a + b, 0) + total.fibreG).toBeCloseTo(total.mixedG, 9);
  });

  it('keeps the ratio of the built-in system: 2.5 powder to 1 liquid by mass (one supplier’s answers to customers)', () => {
    const plan = fakePlan();
    const { total } = mixShares(fakeAnswer(plan, 1).result, plan.material);
    expect(total.componentsG[0] / total.componentsG[1]).toBeCloseTo(2.5, 12);
  });
});

describe('words for amounts', () => {
  it('says what a change did, with its sign', () => {
    expect(sayChange(5120, 5000, 'metric')).toBe('+120 g');
    expect(sayChange(5000, 5120, 'metric')).toBe('\u2212120 g');
    expect(sayChange(5000.001, 5000, 'metric')).toBe('no change');
  });

  it('rounds a bound upwards, so that what is printed still covers', () => {
    expect(sayShareBound(0.00501, 1)).toBe('\u00b1 0.51 %');
    expect(sayShareBound(0.005, 1)).toBe('\u00b1 0.50 %');
    expect(sayShareBound(0.2, 1)).toBe('\u00b1 20 %');
    expect(sayShareBound(1, 0)).toBe('unknown');
    expect(sayBound(4.31, 1870, 'mass', 'metric')).toBe('\u00b1 4.4 g');
    expect(sayBound(14.1, 3160, 'mass', 'metric')).toBe('\u00b1 15 g');
    expect(sayBound(126, 214_000, 'mass', 'metric')).toBe('\u00b1 0.13 kg');
    expect(sayBound(4310, 2_000_000, 'volume', 'metric')).toBe('\u00b1 4.4 ml');
  });
});
