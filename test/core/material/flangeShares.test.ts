import { describe, expect, it } from 'vitest';
import { findMaterial } from '../../../src/core/material/builtInMaterials.ts';
import { coatMix } from '../../../src/core/material/coatMix.ts';
import { flangeDensity, flangeShares } from '../../../src/core/material/flangeShares.ts';
import { plainCoat } from '../../../src/core/plan/plainCoat.ts';
import { tradeGypsum } from '../../fixtures/tradeGypsum.ts';

const face = plainCoat('Face', 'face', 2);
const first = plainCoat('Mat 1', 'reinforced', 3);
const second = { ...plainCoat('Mat 2', 'reinforced', 1), systemId: 'polyester-mat' };

describe('the flange over the coats (common practice, no source)', () => {
  it('goes to the reinforced ones by their thickness', () => {
    expect(flangeShares([face, first, second])).toEqual([0, 0.75, 0.25]);
  });
  it('goes to all where none is reinforced', () => {
    expect(flangeShares([face, plainCoat('Build', 'build', 6)])).toEqual([0.25, 0.75]);
  });

  it('weighs as its coats do, each of its own system', () => {
    const polyester = findMaterial('polyester-mat');
    if (polyester === undefined) throw new Error('the built-in polyester is gone');
    const plan = { material: tradeGypsum, otherMaterials: [polyester], coats: [face, first, second] };
    // By hand: 100:50 of 2.7 and 1.03 with 6 % of glass of 2.6 on it; 100 of 1.2 and 2 of 1.15 with 0.42857 of 2.56.
    const gypsum = 1.06 / (1 / (150 / (100 / 2.7 + 50 / 1.03)) + 0.06 / 2.6);
    const mat = 1.42857 / (1 / (102 / (100 / 1.2 + 2 / 1.15)) + 0.42857 / 2.56);
    const { wetGPerMm3, dryGPerMm3 } = flangeDensity(plan);
    expect(wetGPerMm3 * 1000).toBeCloseTo(0.75 * gypsum + 0.25 * mat, 9);
    // Of 50 of liquid 40 are water, of which 100 of powder bind 18.6; the rest dries out. Polyester keeps its mass.
    const dryShare = 1 - (40 - 18.6) / (150 * 1.06);
    expect(dryGPerMm3 * 1000).toBeCloseTo(0.75 * gypsum * dryShare + 0.25 * mat, 9);
    expect(coatMix(plan, second).system).toBe(polyester);
    expect(coatMix(plan, face).system).toBe(tradeGypsum);
  });
});
