import { describe, expect, it } from 'vitest';
import { copyName } from '../../src/session/copyName.ts';
import { sayBytes } from '../../src/ui/drawer/sayBytes.ts';
import { sayWhen } from '../../src/ui/drawer/sayWhen.ts';

describe('words of the drawer', () => {
  it('when: today and yesterday by the clock, earlier by the date, over midnight and new year', () => {
    const now = new Date(2026, 0, 1, 0, 10);
    expect(sayWhen(new Date(2026, 0, 1, 0, 5), now, 'metric')).toBe('today, 00:05');
    expect(sayWhen(new Date(2025, 11, 31, 23, 59), now, 'us')).toBe('yesterday, 11:59\u00a0pm');
    // 30 December 2025 was a Tuesday (own arithmetic: 1 January 2026 was a Thursday).
    expect(sayWhen(new Date(2025, 11, 30, 8, 0), now, 'metric')).toBe('Tue 30 Dec 2025');
    expect(sayWhen(new Date(2025, 11, 30, 8, 0), now, 'us')).toBe('Tue, Dec 30, 2025');
  });

  it('bytes: decimal steps, never a thousand of one', () => {
    const said = [0, 830, 999, 1000, 12_400, 999_940, 999_960, 12_400_000, 250_000_000, 2_149_000_000].map(
      sayBytes,
    );
    expect(said.map((text) => text.replace('\u00a0', ' '))).toEqual([
      '0 bytes',
      '830 bytes',
      '999 bytes',
      '1.0 kB',
      '12.4 kB',
      '1.0 MB',
      '1.0 MB',
      '12.4 MB',
      '250 MB',
      '2.1 GB',
    ]);
  });

  it('a copy’s name: counted on, cut when it is long', () => {
    expect(copyName('Bust', [])).toBe('Bust, copy');
    expect(copyName('Bust', ['Bust, copy', 'Bust, copy 2'])).toBe('Bust, copy 3');
    expect(copyName('Bust, copy 2', ['Bust, copy', 'Bust, copy 2'])).toBe('Bust, copy 3');
    expect(copyName('x'.repeat(80), [])).toBe(`${'x'.repeat(60)}, copy`);
  });
});
