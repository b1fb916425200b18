import type { ClearSpot } from './clearSpots.ts';
import type { OverlayPicture } from './overlayLayout.ts';
import { arrowPath, circlePath, type SketchInk, type SketchShape } from './sketch/Sketch.ts';

const WORDS_PX = 15;
const NOTES_PX = 14;
const HALO_PX = 4;

/**
 * The drawing's furniture over the mould: dimension, numbers on lines, notes led out, pulls, names of marked areas, scale bar.
 * `isStale`: its numbers are of an earlier plan.
 */
export function overlayShapes(
  { height, labels, notes, pulls, bar }: OverlayPicture,
  clear: readonly ClearSpot[],
  isStale: boolean,
): SketchShape[] {
  const out: SketchShape[] = [];
  const line = (d: string, name: string, widthPx: number): void => {
    out.push({ kind: 'path', d, name, stroke: '--ink', widthPx });
  };
  const spot = (x: number, y: number, radius: number): void => {
    out.push({ kind: 'path', d: circlePath(x, y, radius), fill: '--ink', stroke: '--paper', widthPx: 1 });
  };
  const word = (
    x: number,
    y: number,
    text: string,
    name: string,
    anchor: 'start' | 'middle' | 'end',
    { ink = '--ink' as SketchInk, sizePx = WORDS_PX, haloPx = HALO_PX, turnDeg = 0 } = {},
  ): void => {
    out.push({
      kind: 'text',
      x,
      y,
      text,
      name,
      ink,
      sizePx,
      anchor,
      haloPx,
      ...(turnDeg ? { turnDeg } : {}),
    });
  };
  if (height) {
    const { x, top, bottom } = height;
    line(`M${x - 7} ${top.y}H${Math.max(x + 8, top.x - 6)}`, 'thin', 1);
    line(`M${x - 7} ${bottom.y}H${x + 22}`, 'thin', 1);
    line(arrowPath({ x, y: top.y }, { x, y: bottom.y }, true), 'thin', 1);
    word(x - 8, (top.y + bottom.y) / 2, height.text, 'dimension', 'middle', { turnDeg: -90 });
  }
  for (const { x, y, text } of labels)
    word(x, y + 4, text, 'level', 'middle', { sizePx: NOTES_PX, haloPx: 3 });
  for (const note of notes) {
    const { at, side } = note;
    const anchor = side === 'left' ? 'end' : 'start';
    line(`M${at.x + (side === 'left' ? 6 : -6)} ${at.y + 2}L${note.spot.x} ${note.spot.y}`, 'thin', 1);
    spot(note.spot.x, note.spot.y, 3);
    word(at.x, at.y, note.lines[0], 'note', anchor, { ink: isStale ? '--ink-soft' : '--ink' });
    word(at.x, at.y + 18, note.lines[1], 'note bound', anchor, { ink: '--ink-soft', sizePx: NOTES_PX });
  }
  for (const { kind, from, to, text } of pulls) {
    if (kind === 'arrow') {
      line(arrowPath(from, to), 'pull', 2);
      word((from.x + to.x) / 2, Math.max(from.y, to.y) + 20, text, 'pulls', 'middle');
      continue;
    }
    line(circlePath(to.x, to.y, 8), 'pull', 2);
    if (kind === 'toward') spot(to.x, to.y, 2.5);
    else line(`M${to.x - 5} ${to.y - 5}l10 10m0 -10l-10 10`, 'pull', 2);
    word(to.x, to.y + 25, text, 'pulls', 'middle');
  }
  for (const { name, x, y } of clear) word(x, y + 5, name, 'clear', 'middle');
  if (bar) {
    line(`M${bar.x} ${bar.y - 5}v5h${bar.lengthPx}v-5`, 'thin', 1);
    word(bar.x + bar.lengthPx + 8, bar.y, bar.text, 'bar', 'start', { ink: '--ink-soft', sizePx: NOTES_PX });
  }
  return out;
}
