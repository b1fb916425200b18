import { type FoundFill, type FoundStroke, foundLook } from '../../../view/overlay/foundLooks.ts';
import { circlePath, rectPath, type Sketch, type SketchInk, type SketchShape } from '../sketch/Sketch.ts';

const WIDTH = 26;
const HEIGHT = 16;

const DASHES: Readonly<Record<FoundStroke, readonly number[] | null>> = {
  whole: null,
  broken: [4, 3],
  dotted: [1.5, 3],
};

const FILLS: Readonly<Record<Exclude<FoundFill, null | 'dots'>, string>> = {
  rising: 'M2 14 14 2M9 14 21 2M16 14 24 6M2 8 8 2',
  falling: 'M2 2 14 14M9 2 21 14M16 2 24 10M2 8 8 14',
  level: 'M2 5.5H24M2 10.5H24',
  upright: 'M8 1V15M13 1V15M18 1V15',
};
const DOTS = [5.5, 10.5].flatMap((y, row) => [6, 12, 18].map((x) => circlePath(x + 3 * row, y, 1))).join('');

/** How the findings with this code are drawn on the scan, as a key to them. */
export function foundSketch(code: string, ink: SketchInk = '--ink'): Sketch {
  const { stroke, fill } = foundLook(code);
  const dashPx = DASHES[stroke];
  const shapes: SketchShape[] = [
    {
      kind: 'path',
      d: rectPath(1.5, 1.5, WIDTH - 3, HEIGHT - 3),
      stroke: ink,
      widthPx: stroke === 'dotted' ? 2.4 : 1.5,
      ...(dashPx && { dashPx }),
    },
  ];
  if (fill === 'dots') shapes.push({ kind: 'path', d: DOTS, fill: ink });
  else if (fill !== null) shapes.push({ kind: 'path', d: FILLS[fill], stroke: ink, widthPx: 1 });
  return { widthPx: WIDTH, heightPx: HEIGHT, shapes };
}
