import type { UnitSystem } from '../../../core/units.ts';
import type { MapModel } from '../maps/mapModel.ts';
import { sayBorder } from '../maps/mapWords.ts';
import { rectPath, type Sketch, type SketchShape } from '../sketch/Sketch.ts';

const CELL_PX = 40;
const BAR_PX = 16;
const NUMBER_PX = 14;
const SIDE_PX = 16;
const STROKE_APART_PX = 7;

/** The bands of a map side by side, ruled and hatched as on the mould, a number under each border. */
export function mapScale({ picture, bands, look }: MapModel, units: UnitSystem): Sketch {
  const { colours, borders, judged, hatch } = look;
  const shapes: SketchShape[] = colours.map((fill, i) => ({
    kind: 'path',
    d: rectPath(SIDE_PX + i * CELL_PX, 1, CELL_PX, BAR_PX),
    fill: fill as `#${string}`,
  }));
  /** Where a value stands along the bar; each band is as wide as the next. */
  const placeOf = (value: number): number => {
    const ends = [bands.least, ...borders, bands.most];
    for (let i = 0; i + 1 < ends.length; i++) {
      if (value > ends[i + 1] && i + 2 < ends.length) continue;
      const share = ends[i + 1] > ends[i] ? (value - ends[i]) / (ends[i + 1] - ends[i]) : 0;
      return SIDE_PX + CELL_PX * (i + Math.min(1, Math.max(0, share)));
    }
    return SIDE_PX;
  };
  const right = SIDE_PX + CELL_PX * colours.length;
  if (hatch) {
    const at = placeOf(hatch.at);
    const [from, to] = hatch.side === 'below' ? [SIDE_PX, at] : [at, right];
    colours.forEach((colour, i) => {
      const left = Math.max(from, SIDE_PX + i * CELL_PX);
      const end = Math.min(to, SIDE_PX + (i + 1) * CELL_PX);
      const d = strokesBetween(left, end);
      if (d === '') return;
      shapes.push({ kind: 'path', d, stroke: isDark(colour) ? '#dcdcdc' : 'on-plaster', widthPx: 1.1 });
    });
  }
  borders.forEach((border, i) => {
    const x = SIDE_PX + CELL_PX * (i + 1);
    shapes.push({ kind: 'path', d: `M${x} 1V${BAR_PX + 5}`, stroke: '--ink', widthPx: 1.2 });
    shapes.push({
      kind: 'text',
      x,
      y: BAR_PX + 18,
      text: sayBorder(picture.of, border, units),
      ink: '--ink',
      sizePx: NUMBER_PX,
      anchor: 'middle',
      haloPx: 0,
    });
  });
  shapes.push({
    kind: 'path',
    d: rectPath(SIDE_PX, 1, right - SIDE_PX, BAR_PX),
    stroke: '--line',
    widthPx: 1,
  });
  if (judged !== null && judged > bands.least && judged < bands.most) {
    shapes.push({ kind: 'path', d: `M${placeOf(judged)} 0V${BAR_PX + 2}`, stroke: '--accent', widthPx: 3 });
  }
  return { widthPx: right + SIDE_PX, heightPx: BAR_PX + 22, shapes };
}

/** Strokes at 45 degrees over the bar between two places, cut to it. */
function strokesBetween(left: number, right: number): string {
  let d = '';
  const step = STROKE_APART_PX * Math.SQRT2;
  for (let x = Math.floor((left - BAR_PX) / step) * step; x < right; x += step) {
    const from = Math.max(0, left - x);
    const to = Math.min(BAR_PX, right - x);
    if (to > from) d += `M${x + from} ${1 + BAR_PX - from}L${x + to} ${1 + BAR_PX - to}`;
  }
  return d;
}

/** Graphite would drown on it. Rec. 709 luminance of the plain sRGB values. */
function isDark(hex: string): boolean {
  const [r, g, b] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b < 0.42;
}
