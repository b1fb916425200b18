import type { LegendItem } from './legend/legendItems.ts';
import { type PaintInks, paintShapes } from './sketch/paintSketch.ts';
import type { Sketch, SketchInk, SketchShape } from './sketch/Sketch.ts';

/** All that a saved picture says, the same as on the screen. */
export interface PictureParts {
  /** The mould alone, on white paper, of the stage's shape. */
  readonly mould: CanvasImageSource;
  /** Size of the stage, CSS pixels. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** What is drawn over the mould. */
  readonly shapes: readonly SketchShape[];
  /** "Fig. 2 Draft, seen from the front". */
  readonly caption: string;
  /** What the numbers of the map are, with unit, and its bands; null: no map. */
  readonly scale: { readonly title: string; readonly sketch: Sketch | null } | null;
  readonly items: readonly LegendItem[];
  /** The job, and whatever else stands under the picture. */
  readonly foot: string;
}

/** Device pixels to a CSS pixel: fit to be printed half a page wide. */
const FINENESS = 2;
const MARGIN_PX = 20;
const CAPTION_PX = 46;
const WORDS_PX = 16;
const ROW_PX = 26;
const BESIDE_PX = 7;
const APART_PX = 20;
/** White, which printers leave out. */
const PAPER = '--paper-print';

/** Lays the picture, its caption, legend and foot on one canvas, as PNG. */
export function composePicture(parts: PictureParts, inks: PaintInks): Promise<Blob | null> {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d');
  if (!context) return Promise.resolve(null);
  const font = `${WORDS_PX}px ${inks.face}`;
  context.font = font;
  const rows = layRows(parts, (text) => context.measureText(text).width);
  const scaleHigh = parts.scale ? ROW_PX + (parts.scale.sketch?.heightPx ?? 0) + 6 : 0;
  const height = CAPTION_PX + parts.heightPx + scaleHigh + (rows.length + 1) * ROW_PX + MARGIN_PX;
  canvas.width = Math.round(parts.widthPx * FINENESS);
  canvas.height = Math.round(height * FINENESS);
  context.scale(FINENESS, FINENESS);
  context.fillStyle = inks.colour(PAPER);
  context.fillRect(0, 0, parts.widthPx, height);
  const word = (text: string, x: number, y: number, ink: SketchInk = '--ink'): void => {
    context.font = font;
    context.fillStyle = inks.colour(ink);
    context.fillText(text, x, y);
  };
  word(parts.caption, MARGIN_PX, 30);
  context.drawImage(parts.mould, 0, CAPTION_PX, parts.widthPx, parts.heightPx);
  const paint = (shapes: readonly SketchShape[], x: number, y: number): void => {
    context.save();
    context.translate(x, y);
    paintShapes(context, shapes, inks);
    context.restore();
  };
  paint(parts.shapes, 0, CAPTION_PX);
  let y = CAPTION_PX + parts.heightPx;
  if (parts.scale) {
    word(parts.scale.title, MARGIN_PX, y + 18);
    if (parts.scale.sketch) paint(parts.scale.sketch.shapes, MARGIN_PX, y + ROW_PX);
    y += scaleHigh;
  }
  for (const row of rows) {
    for (const { item, x } of row) {
      let at = x;
      for (const swatch of item.swatches) {
        paint(swatch.shapes, at, y + (ROW_PX - swatch.heightPx) / 2);
        at += swatch.widthPx + BESIDE_PX;
      }
      word(item.text, at, y + 18);
    }
    y += ROW_PX;
  }
  word(parts.foot, MARGIN_PX, y + 18, '--ink-soft');
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}

/** The legend's items in rows that fit the picture's width. */
function layRows(
  { items, widthPx }: Pick<PictureParts, 'items' | 'widthPx'>,
  lengthOf: (text: string) => number,
): { readonly item: LegendItem; readonly x: number }[][] {
  const rows: { item: LegendItem; x: number }[][] = [];
  let x = MARGIN_PX;
  for (const item of items) {
    const swatches = item.swatches.reduce((sum, swatch) => sum + swatch.widthPx + BESIDE_PX, 0);
    const long = swatches + lengthOf(item.text);
    if (rows.length === 0 || x + long > widthPx - MARGIN_PX) {
      rows.push([]);
      x = MARGIN_PX;
    }
    rows[rows.length - 1].push({ item, x });
    x += long + APART_PX;
  }
  return rows;
}
