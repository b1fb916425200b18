import { PIECE_TINTS } from '../../core/picture/pictureInks.ts';
import { escapeHtml } from './escapeHtml.ts';
import { renderFigure } from './renderFigure.ts';
import { renderLines, renderTable } from './renderTable.ts';
import type { Sheet, SheetLine, SheetPart, SheetTitleCell } from './Sheet.ts';
import { SHEET_CSS } from './sheetCss.ts';

/** The sheet as HTML and the style it needs; no script, nothing from outside. Every text of the plan or a file is escaped here. */
export function renderSheet(sheet: Sheet): { readonly body: string; readonly css: string } {
  const head = `<header><h1>${escapeHtml(sheet.job)}</h1><p>${escapeHtml(sheet.shop)}</p></header>`;
  const standing =
    sheet.standing === '' ? '' : `<p class="standing"><b>Not final.</b> ${escapeHtml(sheet.standing)}</p>`;
  const warnings = renderWarnings(sheet.warnings);
  const figures =
    sheet.figures === null
      ? '<p class="standing no-figures"><b>Without its figures.</b> The pictures of the mould are not drawn yet; a sheet printed now has none.</p>'
      : `<div class="figures">${sheet.figures.map((figure, n) => renderFigure(figure, n + 1, sheet.pieces)).join('')}</div>`;
  const names = sheet.pieces
    .map(
      (name, n) =>
        `<span><span class="swatch tint-${n % PIECE_TINTS.length}"></span> ${escapeHtml(name)}</span>`,
    )
    .join('');
  const legend = sheet.figures === null ? '' : `<p class="legend">${names}<span>${LEGEND}</span></p>`;
  const cells = sheet.cells.map(renderTitleCell).join('');
  const first = `<section class="first">${head}${standing}${warnings.first}${figures}${legend}<dl class="title-block">${cells}</dl></section>`;
  const sections = sheet.sections
    .map(
      ({ id, title, parts }, n) =>
        `<section class="part ${escapeHtml(id)}"><h2><span>${n + 1}</span> ${escapeHtml(title)}</h2>${parts.map(renderPart).join('')}</section>`,
    )
    .join('');
  const closing = sheet.closing.map((text) => `<p>${escapeHtml(text)}</p>`).join('');
  const foot = closing === '' ? '' : `<footer>${closing}</footer>`;
  return {
    body: `<article class="shop-sheet" lang="en" aria-label="Shop sheet">${first}${warnings.after}${sections}${foot}</article>`,
    css: SHEET_CSS,
  };
}

/** More notes than this, characters, would leave too little of the first page for the figures. */
const MOST_ON_FIRST = 640;

/** What will not do as it stands: as many notes as there is room for on the first page, the others on the next. */
function renderWarnings(lines: readonly SheetLine[]): { readonly first: string; readonly after: string } {
  if (lines.length === 0) return { first: '', after: '' };
  let shown = 0;
  for (let room = MOST_ON_FIRST; shown < lines.length; shown++) {
    room -= lines[shown].lead.length + lines[shown].text.length;
    if (room < 0) break;
  }
  const rest = lines.slice(shown);
  const more =
    rest.length === 0
      ? ''
      : `<p class="warning">${rest.length} ${shown > 0 ? 'more ' : ''}${rest.length === 1 ? 'stands' : 'stand'} on the next page.</p>`;
  return {
    first: `<section class="warnings"><h2>Look at these first</h2>${renderLines(lines.slice(0, shown), 'warning')}${more}</section>`,
    after:
      rest.length === 0
        ? ''
        : `<section class="warnings"><h2>Look at these too</h2>${renderLines(rest, 'warning')}</section>`,
  };
}

const LEGEND =
  'All to one scale, seen from a little above: the bar is true across. Rust: the parting line, dashed where it is hidden. Numbers: where to put the pin.';

function renderTitleCell({ label, text, under }: SheetTitleCell): string {
  const small = under === '' ? '' : `<span>${escapeHtml(under)}</span>`;
  return `<div><dt>${escapeHtml(label)}</dt><dd>${escapeHtml(text)}${small}</dd></div>`;
}

function renderPart(part: SheetPart): string {
  switch (part.kind) {
    case 'table':
      return renderTable(part);
    case 'lines':
      return `<div class="block">${renderLines(part.lines, 'plain')}</div>`;
    case 'cautions':
      return `<div class="block">${renderLines(part.lines, 'caution')}</div>`;
    case 'facts':
      return `<dl class="facts">${part.facts
        .map(({ lead, text }) => `<div><dt>${escapeHtml(lead)}</dt><dd>${escapeHtml(text)}</dd></div>`)
        .join('')}</dl>`;
  }
}
