import { describe, expect, it } from 'vitest';
import { sayBound, sayChange, sayShareBound } from '../../src/ui/sayAmounts.ts';

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
