import type { SketchShape } from './sketch/Sketch.ts';

/** So far beside a mouse, and above a finger, which would cover it, px. */
const BESIDE_PX = 14;
const ABOVE_PX = 46;
const WORDS_PX = 17;
/** About so wide is a letter at this size, px: only to tell on which side there is room. */
const LETTER_PX = 8.6;

/** A reading beside the place it is of. */
export function readingShapes(
  { x, y, isTouch }: { readonly x: number; readonly y: number; readonly isTouch: boolean },
  text: string,
  widthPx: number,
): SketchShape[] {
  const longPx = text.length * LETTER_PX;
  const at = isTouch
    ? {
        x: Math.min(widthPx - longPx / 2 - 8, Math.max(longPx / 2 + 8, x)),
        y: y - ABOVE_PX,
        anchor: 'middle' as const,
      }
    : x + BESIDE_PX + longPx < widthPx
      ? { x: x + BESIDE_PX, y: y - BESIDE_PX / 2, anchor: 'start' as const }
      : { x: x - BESIDE_PX, y: y - BESIDE_PX / 2, anchor: 'end' as const };
  return [{ kind: 'text', name: 'reading', ...at, text, ink: '--ink', sizePx: WORDS_PX, haloPx: 6 }];
}
