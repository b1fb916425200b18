import { escapeHtml } from './escapeHtml.ts';
import { placeCircles } from './placeCircles.ts';
import type { SheetFigure } from './Sheet.ts';

/** Sizes in picture pixels, of which about 8.5 go to a printed millimetre. */
const NUMBER_RADIUS = 19;
const NAME_SIZE = 27;
/** Mean width of a bold character over its size, a little on the safe side. */
const CHARACTER_SHARE = 0.6;
const BAR_INSET = 16;
const BAR_HEIGHT = 9;

/** A side with the pieces' names, the numbered spots and a bar of known length, as a picture that scales. */
export function renderFigure(figure: SheetFigure, number: number, pieceNames: readonly string[]): string {
  const { picture, scale, title, href } = figure;
  const { widthPx, heightPx, labels } = picture;
  const names = labels
    .filter((label) => label.kind === 'piece')
    .map((label) => ({
      text: pieceNames[label.number] ?? '',
      x: label.xPx,
      y: label.yPx,
    }))
    .filter(({ text }) => text !== '');
  const bar = { x: BAR_INSET, y: heightPx - BAR_INSET - BAR_HEIGHT };
  const taken = [
    ...names.map(({ text, x, y }) => ({
      x,
      y,
      radius: Math.max(NAME_SIZE, (text.length * NAME_SIZE * CHARACTER_SHARE) / 2),
    })),
  ];
  const circles = placeCircles(labels, NUMBER_RADIUS, widthPx, heightPx, taken);
  const nameMarks = names.map(
    ({ text, x, y }) =>
      `<text class="piece-name" x="${px(x)}" y="${px(y)}" font-size="${NAME_SIZE}">${escapeHtml(text)}</text>`,
  );
  const leaders = circles
    .filter(({ x, y, spotX, spotY }) => x !== spotX || y !== spotY)
    .map(
      ({ x, y, spotX, spotY }) =>
        `<line class="leader" x1="${px(spotX)}" y1="${px(spotY)}" x2="${px(x)}" y2="${px(y)}"/><circle class="spot" cx="${px(spotX)}" cy="${px(spotY)}" r="4"/>`,
    );
  const rings = circles.map(
    ({ number: n, x, y }) =>
      `<circle class="ring" cx="${px(x)}" cy="${px(y)}" r="${NUMBER_RADIUS}"/><text class="ring-number" x="${px(x)}" y="${px(y)}" font-size="23">${n}</text>`,
  );
  const half = scale.lengthPx / 2;
  const barMark = `<rect class="bar-ink" x="${bar.x}" y="${px(bar.y)}" width="${px(half)}" height="${BAR_HEIGHT}"/><rect class="bar" x="${bar.x}" y="${px(bar.y)}" width="${px(scale.lengthPx)}" height="${BAR_HEIGHT}"/><text class="bar-text" x="${px(bar.x + scale.lengthPx + 10)}" y="${px(bar.y + BAR_HEIGHT)}" font-size="24">${escapeHtml(scale.text)}</text>`;
  const said = `The mould ${title[0].toLowerCase()}${title.slice(1)}`;
  return `<figure><svg viewBox="0 0 ${widthPx} ${heightPx}" role="img" aria-label="${escapeHtml(said)}"><image href="${escapeHtml(href)}" width="${widthPx}" height="${heightPx}"/>${leaders.join('')}${nameMarks.join('')}${rings.join('')}${barMark}</svg><figcaption><b>Fig. ${number}</b> ${escapeHtml(title)}</figcaption></figure>`;
}

const px = (value: number): string => String(Number(value.toFixed(1)));
