import type { LockKind } from '../lockKinds.ts';
import { circlePath, rectPath, type Sketch, type SketchInk, type SketchShape } from '../sketch/Sketch.ts';

const WIDTH = 26;
const HEIGHT = 16;
const SQUARE = 15;
const STROKE_PX = 1.1;

/** Paths of the strokes that the view hatches each kind with; see view/surface/clayMaterial.ts. */
const STROKES: Readonly<Record<LockKind, string>> = {
  1: slanted(6, 1),
  2: slanted(6, -1),
  3: slanted(6, -1),
  4: 'M0 2.5H26M0 8H26M0 13.5H26',
};

/** A plain tint, such as that of a piece or a coat. */
export function tintSwatch(fill: SketchInk): Sketch {
  return {
    widthPx: SQUARE,
    heightPx: SQUARE,
    shapes: [
      { kind: 'path', d: rectPath(0.5, 0.5, SQUARE - 1, SQUARE - 1), fill, stroke: '--line', widthPx: 1 },
    ],
  };
}

/** The rubber where it is cut: its tint in strokes. */
export const cutRubberSwatch: Sketch = {
  widthPx: SQUARE,
  heightPx: SQUARE,
  shapes: [
    { kind: 'path', d: rectPath(0.5, 0.5, SQUARE - 1, SQUARE - 1), fill: '--paper-raised' },
    { kind: 'path', d: 'M1 6L6 1M1 11L11 1M2 14L14 2M7 14L14 7M12 14L14 12', stroke: '--rubber', widthPx: 2 },
    { kind: 'path', d: rectPath(0.5, 0.5, SQUARE - 1, SQUARE - 1), stroke: '--line', widthPx: 1 },
  ],
};

/** A line as it runs over the mould. */
export function lineSwatch(stroke: SketchInk, widthPx: number): Sketch {
  return { widthPx: WIDTH, heightPx: 10, shapes: [{ kind: 'path', d: 'M0 5H26', stroke, widthPx }] };
}

/** A kind of hatching as it stands on the rubber. */
export function hatchSwatch(kind: LockKind): Sketch {
  return hatched(STROKES[kind], 'on-plaster', kind === 3 ? [5.5, 3.5] : undefined);
}

/** The wider hatching where the rubber yields. */
export const givingSwatch = hatched(slanted(12, 1), 'on-plaster');

/** Strokes both ways in accent: what is inside the rubber. */
export const touchSwatch = hatched(slanted(7, 1) + slanted(7, -1), '--accent');

/** A line of depth with its number's place left open. */
export const depthSwatch = contourSwatch('--ink', 1.6);

/** The line at which the rubber yields no more. */
export const giveSwatch = contourSwatch('--accent', 2);

/** The line at the value that a map is judged by. */
export const judgedSwatch = contourSwatch('--accent', 2.6);

/** Strokes alone, as over the bands of a map. */
export const mapHatchSwatch: Sketch = {
  ...hatched(slanted(7, 1), 'on-plaster'),
};

/** Dots set like bricks, as on filler. */
export const fillerSwatch: Sketch = framed('--rubber', [
  {
    kind: 'path',
    fill: 'on-plaster',
    d: [2, 8, 14]
      .flatMap((y, row) => [3, 9, 15, 21, 27].map((x) => circlePath(x - (row % 2) * 3, y, 1)))
      .join(''),
  },
]);

function contourSwatch(stroke: SketchInk, widthPx: number): Sketch {
  return {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    shapes: [{ kind: 'path', d: 'M0 12C7 12 8 4 14 4S20 9 26 8', stroke, widthPx }],
  };
}

function hatched(d: string, stroke: SketchInk, dashPx?: readonly number[]): Sketch {
  return framed('--piece-4', [
    { kind: 'path', d, stroke, widthPx: STROKE_PX, ...(dashPx ? { dashPx } : {}) },
  ]);
}

function framed(fill: SketchInk, inside: readonly SketchShape[]): Sketch {
  return {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    shapes: [
      { kind: 'path', d: rectPath(0, 0, WIDTH, HEIGHT), fill },
      ...inside,
      { kind: 'path', d: rectPath(0.5, 0.5, WIDTH - 1, HEIGHT - 1), stroke: '--line', widthPx: 1 },
    ],
  };
}

/** Strokes at 45 degrees within the swatch, `spacing` apart, rising to the right (`sense` 1) or falling (-1). */
function slanted(spacing: number, sense: 1 | -1): string {
  const step = spacing * Math.SQRT2;
  let path = '';
  for (let x = -HEIGHT + step / 2; x < WIDTH; x += step) {
    // Cut to the swatch, because a canvas does not clip to it.
    const from = Math.max(0, -x);
    const to = Math.min(HEIGHT, WIDTH - x);
    path +=
      sense > 0
        ? `M${x + from} ${HEIGHT - from}L${x + to} ${HEIGHT - to}`
        : `M${x + from} ${from}L${x + to} ${to}`;
  }
  return path;
}
