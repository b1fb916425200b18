import { describe, expect, it } from 'vitest';
import { HINTS, nextHint } from '../../src/ui/parts/hintTexts.ts';

describe('hints of the first minute', () => {
  it('are three, short, told apart by their keys', () => {
    expect(HINTS.length).toBe(3);
    expect(new Set(HINTS.map(({ key }) => key)).size).toBe(3);
    for (const { text } of HINTS) expect(text.length).toBeLessThan(140);
  });

  it('come one after the other, and never again', () => {
    expect(nextHint([], 'parting')?.number).toBe(1);
    expect(nextHint([HINTS[0].key], 'parting')?.number).toBe(2);
    expect(nextHint([HINTS[1].key], 'parting')?.number).toBe(1);
    expect(nextHint([HINTS[0].key, HINTS[1].key], 'coats')?.number).toBe(3);
    expect(
      nextHint(
        HINTS.map(({ key }) => key),
        'scan',
      ),
    ).toBe(null);
  });

  it('say nothing of turning the mould while the sheet lies in its place', () => {
    expect(nextHint([], 'sheet')?.hint.key).toBe('stages');
    expect(nextHint(['stages', 'totals'], 'sheet')).toBe(null);
  });
});
