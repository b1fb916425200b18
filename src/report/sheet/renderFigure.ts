import { escapeHtml } from './escapeHtml.ts';
import { placeCircles } from './placeCircles.ts';
import type { SheetFigure } from './Sheet.ts';

/** Size of a figure in print, mm: the smaller of the two fits decides how many pixels go to a millimetre. */
const PRINTED_WIDTH_MM = 84;
const PRINTED_HEIGHT_MM = 66;
/** Sizes in print, mm: 8 and 9 points. */
const NUMBER_RADIUS_MM = 2.2;
const NUMBER_SIZE_MM = 2.8;
const NAME_SIZE_MM = 3.2;
const BAR_SIZE_MM = 2.9;
/** A name is left out where less than this share of half its width is free about it. */
const ROOM_SHARE = 0.8;
/** Mean width of a bold character over its size, a little on the safe side. */
const CHARACTER_SHARE = 0.6;
const BAR_INSET_MM = 1.4;
const BAR_HEIGHT_MM = 0.9;

/** A side with the pieces' names, the numbered spots and a bar of known length, as a picture that scales. */
export function renderFigure(figure: SheetFigure, number: number, pieceNames: readonly string[]): string {
  const { picture, scale, title, href } = figure;
  const { widthPx, heightPx, labels } = picture;
  const pxPerMm = Math.max(widthPx / PRINTED_WIDTH_MM, heightPx / PRINTED_HEIGHT_MM);
  const radius = NUMBER_RADIUS_MM * pxPerMm;
  const nameSize = NAME_SIZE_MM * pxPerMm;
  const barHeight = BAR_HEIGHT_MM * pxPerMm;
  const halfWidth = (text: string): number => (text.length * nameSize * CHARACTER_SHARE) / 2;
  const names = labels
    .filter((label) => label.kind === 'piece')
    .map((label) => ({
      text: pieceNames[label.number] ?? '',
      x: label.xPx,
      y: label.yPx,
      roomPx: label.roomPx,
    }))
    // A name that does not fit its piece would be read as its neighbour's; the other sides show it.
    .filter(({ text, roomPx }) => text !== '' && roomPx >= ROOM_SHARE * halfWidth(text));
  const bar = {
    x: BAR_INSET_MM * pxPerMm,
    // On a strip of its own under the picture, where nothing stands.
    y: heightPx + BAR_INSET_MM * pxPerMm,
  };
  const taken = names.map(({ text, x, y }) => ({ x, y, radius: Math.max(nameSize, halfWidth(text)) }));
  const circles = placeCircles(labels, radius, widthPx, heightPx, taken);
  const nameMarks = names.map(
    ({ text, x, y }) =>
      `<text class="piece-name" x="${px(x)}" y="${px(y)}" font-size="${px(nameSize)}">${escapeHtml(text)}</text>`,
  );
  const leaders = circles
    .filter(({ x, y, spotX, spotY }) => x !== spotX || y !== spotY)
    .map(
      ({ x, y, spotX, spotY }) =>
        `<line class="leader" x1="${px(spotX)}" y1="${px(spotY)}" x2="${px(x)}" y2="${px(y)}"/><circle class="spot" cx="${px(spotX)}" cy="${px(spotY)}" r="${px(radius / 5)}"/>`,
    );
  const rings = circles.map(
    ({ number: n, x, y }) =>
      `<circle class="ring" cx="${px(x)}" cy="${px(y)}" r="${px(radius)}"/><text class="ring-number" x="${px(x)}" y="${px(y)}" font-size="${px(NUMBER_SIZE_MM * pxPerMm)}">${n}</text>`,
  );
  const half = scale.lengthPx / 2;
  const barMark = `<rect class="bar-ink" x="${px(bar.x)}" y="${px(bar.y)}" width="${px(half)}" height="${px(barHeight)}"/><rect class="bar" x="${px(bar.x)}" y="${px(bar.y)}" width="${px(scale.lengthPx)}" height="${px(barHeight)}"/><text class="bar-text" x="${px(bar.x + scale.lengthPx + 10)}" y="${px(bar.y + barHeight)}" font-size="${px(BAR_SIZE_MM * pxPerMm)}">${escapeHtml(scale.text)}</text>`;
  const said = `The mould ${title[0].toLowerCase()}${title.slice(1)}`;
  return `<figure><svg viewBox="0 0 ${widthPx} ${px(bar.y + 2 * barHeight)}" role="img" aria-label="${escapeHtml(said)}"><image href="${escapeHtml(href)}" width="${widthPx}" height="${heightPx}"/>${leaders.join('')}${nameMarks.join('')}${rings.join('')}${barMark}</svg><figcaption><b>Fig. ${number}</b> ${escapeHtml(title)}</figcaption></figure>`;
}

const px = (value: number): string => String(Number(value.toFixed(1)));
