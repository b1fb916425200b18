import { describe, expect, it } from 'vitest';
import { fileStem } from '../../src/session/planFile.ts';

const stemOf = (name: string): string => fileStem({ job: { name, shop: '' } });

describe('fileStem', () => {
  it.each([
    ['Leaping carp, no. 2', 'Leaping-carp-no-2'],
    ['../../etc/passwd', 'etc-passwd'],
    ['C:\\temp\\"x"<y>|z?*', 'C-temp-x-y-z'],
    ['-rf', 'rf'],
    ['.hidden', 'hidden'],
    ['line\nfeed\u0007\u202Egnp', 'line-feed-gnp'],
    ['\u0000', 'mould'],
    ['  ', 'mould'],
    ['\uD800', 'mould'],
    ['con', 'mould-con'],
    ['Com1', 'mould-Com1'],
    ['console', 'console'],
    // Marks belong to their letters.
    ['Bu\u0308ste', 'B\u00fcste'],
    ['\u0939\u093f\u0928\u094d\u0926\u0940', '\u0939\u093f\u0928\u094d\u0926\u0940'],
  ])('%j is %j', (name, stem) => {
    expect(stemOf(name)).toBe(stem);
  });

  it('leaves room for endings, and cuts no letter in two', () => {
    const bytes = (text: string) => new TextEncoder().encode(text).length;
    for (const letter of ['x', '\u00e9', '\u50cf', '\u{20000}']) {
      const stem = stemOf(letter.repeat(300));
      expect(bytes(stem)).toBeLessThanOrEqual(120);
      expect(bytes(stem)).toBeGreaterThan(120 - 4);
      expect(new Set(stem)).toEqual(new Set([letter]));
    }
  });
});
