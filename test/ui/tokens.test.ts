import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('../../src/ui/tokens.css', import.meta.url), 'utf8');

/** Relative luminance and contrast as WCAG 2.2 defines them (w3.org/TR/WCAG22, "relative luminance", "contrast ratio"). */
function luminance(hex: string): number {
  const channel = (at: number): number => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

function token(name: string, scheme: 0 | 1): string {
  const pair = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(css);
  if (!pair) throw new Error(`No token --${name}`);
  return pair[1 + scheme];
}

describe('contrast of the tokens, WCAG 2.2 AA', () => {
  it('measures as two known figures: black on white 21, #767676 on white 4.54', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.542, 2);
  });

  for (const scheme of [0, 1] as const) {
    const name = scheme === 0 ? 'light' : 'dark';
    it(`${name}: text at least 4.5 : 1 on every paper`, () => {
      for (const ink of ['ink', 'ink-soft', 'accent']) {
        for (const paper of ['paper', 'paper-raised', 'paper-sunk']) {
          expect(
            contrast(token(ink, scheme), token(paper, scheme)),
            `${ink} on ${paper}`,
          ).toBeGreaterThanOrEqual(4.5);
        }
      }
      expect(contrast(token('on-accent', scheme), token('accent', scheme))).toBeGreaterThanOrEqual(4.5);
      // Hints and pressed buttons.
      for (const ink of ['ink', 'ink-soft']) {
        expect(
          contrast(token(ink, scheme), token('accent-wash', scheme)),
          `${ink} on accent-wash`,
        ).toBeGreaterThanOrEqual(4.5);
      }
      expect(contrast(token('paper', scheme), token('ink', scheme))).toBeGreaterThanOrEqual(4.5);
    });

    it(`${name}: borders of controls at least 3 : 1`, () => {
      for (const paper of ['paper', 'paper-raised', 'paper-sunk']) {
        expect(contrast(token('line-control', scheme), token(paper, scheme)), paper).toBeGreaterThanOrEqual(
          3,
        );
        // The ring of focus, and what is pressed or chosen, against what lies beside it.
        expect(contrast(token('accent', scheme), token(paper, scheme)), paper).toBeGreaterThanOrEqual(3);
        expect(contrast(token('line', scheme), token(paper, scheme)), paper).toBeGreaterThanOrEqual(3);
      }
    });

    it(`${name}: neighbouring pieces and coats tell apart in lightness`, () => {
      for (const stem of ['piece', 'coat']) {
        for (let i = 0; i + 1 < 6; i++) {
          const ratio = contrast(token(`${stem}-${i}`, scheme), token(`${stem}-${i + 1}`, scheme));
          expect(ratio, `${stem} ${i} and ${i + 1}`).toBeGreaterThanOrEqual(1.3);
        }
      }
    });
  }
});
