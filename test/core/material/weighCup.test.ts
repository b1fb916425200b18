import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { type WeighedCup, weighCup } from '../../../src/core/material/weighCup.ts';

function fieldOf(cup: WeighedCup): string | undefined {
  try {
    weighCup(cup);
  } catch (error) {
    if (error instanceof PlanError && error.code === 'bad-material') return error.field;
    throw error;
  }
  throw new Error('was taken');
}

describe('a weighed cup', () => {
  it('of known volume: what it holds over its volume', () => {
    // By hand: (388.0 - 19.0) / 200.
    expect(weighCup({ emptyG: 19, fullG: 388, cupMl: 200 })).toBeCloseTo(1.845, 12);
  });
  it('of unknown volume: by its fill of water, 0.998 g/ml at 20 °C', () => {
    // Full of water itself it must come to water's density, whatever the cup.
    expect(weighCup({ emptyG: 12, waterG: 212, fullG: 212 })).toBeCloseTo(0.998, 12);
    // By hand: 199.6 g of water are 200 ml.
    expect(weighCup({ emptyG: 19, waterG: 218.6, fullG: 388 })).toBeCloseTo(1.845, 12);
  });
  it('both ways agree on one cup', () => {
    const byVolume = weighCup({ emptyG: 8, fullG: 171, cupMl: 100 });
    expect(weighCup({ emptyG: 8, waterG: 8 + 99.8, fullG: 171 })).toBeCloseTo(byVolume, 12);
  });
  it('what cannot be is refused by field', () => {
    expect(fieldOf({ emptyG: -1, fullG: 300, cupMl: 200 })).toBe('emptyG');
    expect(fieldOf({ emptyG: Number.NaN, fullG: 300, cupMl: 200 })).toBe('emptyG');
    expect(fieldOf({ emptyG: 20, fullG: 20, cupMl: 200 })).toBe('fullG');
    expect(fieldOf({ emptyG: 20, fullG: Infinity, cupMl: 200 })).toBe('fullG');
    expect(fieldOf({ emptyG: 20, fullG: 300, cupMl: 0 })).toBe('cupMl');
    expect(fieldOf({ emptyG: 20, fullG: 300, waterG: 20 })).toBe('waterG');
    // Pounds for grams, litres for millilitres.
    expect(fieldOf({ emptyG: 20, fullG: 300, cupMl: 0.2 })).toBe('cupMl');
    expect(fieldOf({ emptyG: 0.04, fullG: 0.8, cupMl: 200 })).toBe('cupMl');
  });
});
