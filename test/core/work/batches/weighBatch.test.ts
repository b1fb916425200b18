import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MixPart, weighBatch } from '../../../../src/core/work/batches/weighBatch.ts';

const COARSE = { name: 'coarse', mostG: 5000, stepG: 1 };
const FINE = { name: 'fine', mostG: 200, stepG: 0.1 };

function parts(...shares: number[]): MixPart[] {
  const whole = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share, n) => ({ name: `part ${n}`, share: share / whole }));
}

describe('weights of one batch', () => {
  it('puts each part on the finest scale that carries it', () => {
    const { weights } = weighBatch(parts(400, 200, 4), 604, 2000, [COARSE, FINE], 0.02);
    expect(weights.map(({ massG, scale }) => [massG, scale.name])).toEqual([
      [400, 'coarse'],
      [200, 'fine'],
      [4, 'fine'],
    ]);
  });

  it('looks for a slightly larger batch where rounding puts a part off', () => {
    // 100 : 3 on a scale of 1 g. Of 154 g the 3 parts are 4.49 g, 4 g is 11 % off; 5 g of 168 g would be nearly right.
    const weighing = weighBatch(parts(100, 3), 154, 1000, [COARSE], 0.03);
    expect(weighing.ratioOff).toBeLessThanOrEqual(0.03);
    expect(weighing.weights.map((weight) => weight.massG)).toEqual([162, 5]);
    // The next smaller sum is just out: 5 / 166 against 3 / 103.
    expect(Math.abs(5 / 166 / (3 / 103) - 1)).toBeGreaterThan(0.03);
  });

  it('mixes no more than it may, and then says how far off the ratio is', () => {
    const weighing = weighBatch(parts(100, 3), 154, 160, [COARSE], 0.03);
    expect(weighing.mixedG).toBeLessThanOrEqual(160);
    expect(weighing.ratioOff).toBeGreaterThan(0.03);
    expect(weighing.worst.name).toBe('part 1');
    const [, small] = weighing.weights;
    expect(weighing.ratioOff).toBeCloseTo(Math.abs(small.massG / weighing.mixedG / (3 / 103) - 1), 12);
  });

  it('finds an even batch of two parts wherever one exists within a tenth or 20 g more (seed 4)', () => {
    const cases = fc.tuple(
      fc.double({ min: 0.005, max: 0.995, noNaN: true }),
      fc.double({ min: 5, max: 300, noNaN: true }),
      fc.constantFrom(0.005, 0.02, 0.05),
    );
    fc.assert(
      fc.property(cases, ([share, needG, tolerance]) => {
        const found = weighBatch(parts(share, 1 - share), needG, Infinity, [COARSE], tolerance);
        if (found.ratioOff <= tolerance * (1 + 1e-9) + 1e-9) return;
        // Brute force: every pair of whole grams that sums to no more than a tenth or 20 g beyond the need.
        let leastOff = Infinity;
        for (let sumG = Math.ceil(needG); sumG <= Math.max(needG * 1.1, needG + 20); sumG++) {
          for (let firstG = 0; firstG <= sumG; firstG++) {
            const firstOff = Math.abs(firstG / sumG / share - 1);
            const secondOff = Math.abs((sumG - firstG) / sumG / (1 - share) - 1);
            leastOff = Math.min(leastOff, Math.max(firstOff, secondOff));
          }
        }
        expect(leastOff).toBeGreaterThan(tolerance);
      }),
      { seed: 4, numRuns: 200 },
    );
  });
});
