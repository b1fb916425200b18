import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isTerm, TERM_TEXTS } from '../../src/ui/parts/termTexts.ts';

const UI = new URL('../../src/ui/', import.meta.url);

describe('words of the trade', () => {
  it('are explained in one or two short sentences, without circling back to the word alone', () => {
    for (const [word, text] of Object.entries(TERM_TEXTS)) {
      expect(text.length, word).toBeLessThan(170);
      expect(text.length, word).toBeGreaterThan(20);
      expect(text, word).toMatch(/^[A-Z].*\.$/s);
      expect(text.toLowerCase().startsWith(word), word).toBe(false);
    }
  });

  it('are looked up by their own names only', () => {
    expect(isTerm('flange')).toBe(true);
    expect(isTerm('toString')).toBe(false);
  });

  it('every word that a panel marks has a meaning, and the words that a newcomer meets are marked somewhere', () => {
    const sources = readdirSync(UI, { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.ts'))
      .map((path) => readFileSync(new URL(path, UI), 'utf8'));
    const marked = new Set<string>();
    for (const source of sources) {
      for (const [, word] of source.matchAll(/<scute-term word="([^"]+)"/g)) marked.add(word);
      for (const [, list] of source.matchAll(/\.(?:words|terms)=\$\{\[([^\]]*)\]/g)) {
        for (const [, word] of list.matchAll(/'([^']+)'/g)) marked.add(word);
      }
    }
    for (const word of marked) expect(isTerm(word), word).toBe(true);
    const unmarked = Object.keys(TERM_TEXTS).filter((word) => !marked.has(word));
    expect(unmarked).toEqual([]);
  });
});
