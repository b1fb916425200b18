/**
 * A colour of a sketch: a token of the page by its name ("--ink"), a colour as #rrggbb, or the ink that is dark in both themes
 * because it lies on plaster.
 */
export type SketchInk = `--${string}` | `#${string}` | 'on-plaster';

/** One thing drawn. CSS pixels, y down. `name` is the class that it bears in the page. */
export type SketchShape =
  | {
      readonly kind: 'path';
      readonly d: string;
      readonly name?: string;
      readonly fill?: SketchInk;
      readonly stroke?: SketchInk;
      readonly widthPx?: number;
      /** Stroke and gap, px. */
      readonly dashPx?: readonly number[];
    }
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly name?: string;
      readonly ink: SketchInk;
      readonly sizePx: number;
      readonly anchor: 'start' | 'middle' | 'end';
      /** Paper round the letters, px. */
      readonly haloPx: number;
      /** About its own place, degrees, clockwise. */
      readonly turnDeg?: number;
    };

/** A small drawing made of data, so that the page and a saved picture draw the same. */
export interface Sketch {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly shapes: readonly SketchShape[];
}

/** Path of a rectangle. */
export function rectPath(x: number, y: number, width: number, height: number): string {
  return `M${x} ${y}h${width}v${height}h${-width}z`;
}

/** Path of a circle. */
export function circlePath(x: number, y: number, radius: number): string {
  return `M${x - radius} ${y}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0z`;
}

/** Path of a line with an open arrow head at its end, and at its start where `isDouble`. */
export function arrowPath(
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
  isDouble = false,
): string {
  const line = `M${from.x} ${from.y}L${to.x} ${to.y}`;
  return line + headPath(from, to) + (isDouble ? headPath(to, from) : '');
}

const HEAD_PX = 9;
const HALF_HEAD_PX = 4.2;

function headPath(
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): string {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length === 0) return '';
  const ux = (to.x - from.x) / length;
  const uy = (to.y - from.y) / length;
  const wing = (sign: number) =>
    `${to.x - HEAD_PX * ux - sign * HALF_HEAD_PX * uy} ${to.y - HEAD_PX * uy + sign * HALF_HEAD_PX * ux}`;
  return `M${wing(1)}L${to.x} ${to.y}L${wing(-1)}`;
}
