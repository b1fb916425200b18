import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Pack } from '../../../../src/core/material/MaterialSystem.ts';
import { cheapestPerG, choosePacks } from '../../../../src/core/work/shopping/choosePacks.ts';

function pack(massG: number, price: number | null = null): Pack {
  return { massG, price };
}

function chosen(needG: number, packs: readonly Pack[]): [number, number][] {
  return choosePacks(needG, packs).map(({ pack: one, count }) => [count, one.massG]);
}

describe('packs to buy', () => {
  it('one size: as many as cover the need', () => {
    expect(chosen(26_000, [pack(25_000)])).toEqual([[2, 25_000]]);
    expect(chosen(25_000, [pack(25_000)])).toEqual([[1, 25_000]]);
    expect(chosen(25_000.001, [pack(25_000)])).toEqual([[2, 25_000]]);
  });

  it('nothing for no need, nothing where no pack is given', () => {
    expect(chosen(0, [pack(1000, 5)])).toEqual([]);
    expect(chosen(500, [])).toEqual([]);
  });

  it('cheapest first: one large pack may cost less than small ones that fit better', () => {
    expect(chosen(3000, [pack(1000, 10), pack(5000, 25)])).toEqual([[1, 5000]]);
    expect(chosen(2000, [pack(1000, 10), pack(5000, 25)])).toEqual([[2, 1000]]);
  });

  it('sizes together where that is cheapest', () => {
    expect(chosen(31_000, [pack(25_000, 40), pack(5_000, 12), pack(1000, 4)])).toEqual([
      [1, 25_000],
      [1, 5_000],
      [1, 1000],
    ]);
  });

  it('of equal price the least left over, then the fewest packs', () => {
    expect(chosen(4000, [pack(5000, 20), pack(2000, 10)])).toEqual([[2, 2000]]);
    expect(chosen(4000, [pack(4000, 20), pack(2000, 10)])).toEqual([[1, 4000]]);
  });

  it('without any price: least left over, then fewest packs; a size without a price is passed over beside one with', () => {
    expect(chosen(31_200, [pack(25_000), pack(5_000), pack(1000)])).toEqual([
      [1, 25_000],
      [1, 5_000],
      [2, 1000],
    ]);
    expect(chosen(31_200, [pack(25_000, 40), pack(1000)])).toEqual([[2, 25_000]]);
  });

  it('equals brute force over every set of packs of up to three sizes (seed 9)', () => {
    const size = fc.record({
      massG: fc.integer({ min: 50, max: 900 }),
      price: fc.oneof(fc.constant(null), fc.integer({ min: 1, max: 60 })),
    });
    fc.assert(
      fc.property(
        fc.array(size, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 1, max: 1500 }),
        (packs, needG) => {
          const priced = packs.filter((one) => one.price !== null);
          const usable = priced.length > 0 ? priced : packs;
          let best = [Infinity, Infinity, Infinity];
          const walk = (n: number, massG: number, cost: number, count: number): void => {
            if (massG >= needG) {
              const found = [cost, massG - needG, count];
              const first = found.findIndex((value, k) => value !== best[k]);
              if (first >= 0 && found[first] < best[first]) best = found;
              return;
            }
            if (n === usable.length) return;
            walk(n + 1, massG, cost, count);
            walk(n, massG + usable[n].massG, cost + (usable[n].price ?? 0), count + 1);
          };
          walk(0, 0, 0, 0);
          const found = choosePacks(needG, packs);
          const sum = (of: (one: Pack) => number): number =>
            found.reduce((total, one) => total + of(one.pack) * one.count, 0);
          expect([sum((one) => one.price ?? 0), sum((one) => one.massG) - needG, sum(() => 1)]).toEqual(best);
        },
      ),
      { seed: 9, numRuns: 300 },
    );
  });

  it('stays quick with many odd sizes, and covers the need', () => {
    const packs = Array.from({ length: 20 }, (_, n) => pack(1 + n * 0.37));
    const startMs = performance.now();
    const found = choosePacks(300_000, packs);
    expect(performance.now() - startMs).toBeLessThan(2000);
    expect(found.reduce((sum, one) => sum + one.pack.massG * one.count, 0)).toBeGreaterThanOrEqual(
      299_999.99,
    );
  });

  it('cheapest gram', () => {
    expect(cheapestPerG([pack(1000, 10), pack(5000, 40), pack(100)])).toBe(40 / 5000);
    expect(cheapestPerG([pack(1000)])).toBeNull();
  });
});
