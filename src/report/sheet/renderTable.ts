import { PIECE_TINTS } from '../../core/picture/pictureInks.ts';
import { joinUnits } from '../joinUnits.ts';
import { escapeHtml } from './escapeHtml.ts';
import type { SheetCell, SheetColumn, SheetLine, SheetRow, SheetTable } from './Sheet.ts';

/** From one more column on, what stands between them is made smaller: a batch of seven things still fits the paper. */
const MANY_COLUMNS = 8;

/** A table with its caption and introduction. */
export function renderTable(table: SheetTable): string {
  const { columns, rows, caption, intro, isWhole } = table;
  const head = caption === '' ? '' : `<h3>${escapeHtml(caption)}</h3>`;
  const before = `${head}${renderLines(intro, 'intro')}`;
  if (columns.length === 0) return `<div class="block whole">${before}</div>`;
  const heads = columns
    .map(
      ({ title, look }) =>
        `<th scope="col" class="${look}">${title === '' ? HIDDEN[look] : escapeHtml(title)}</th>`,
    )
    .join('');
  const body = rows.map((row) => renderRow(columns, row)).join('');
  // The words before a table stay with its head; the rows may run on to the next page.
  return `<div class="block${isWhole ? ' whole' : ''}"><div class="before">${before}</div><table${columns.length > MANY_COLUMNS ? ' class="crowded"' : ''}><thead><tr>${heads}</tr></thead><tbody>${body}</tbody></table></div>`;
}

/** What a screen reader is told where a column has no title. */
const HIDDEN: Readonly<Record<SheetColumn['look'], string>> = {
  tick: '<span class="hidden">Done</span>',
  tint: '<span class="hidden">Drawn</span>',
  write: '',
  weight: '',
  number: '',
  text: '',
};

function renderRow(columns: readonly SheetColumn[], { cells, tone, cautions }: SheetRow): string {
  const marks = columns.map((column, n) => renderCell(column, cells[n], tone)).join('');
  const after =
    cautions.length === 0
      ? ''
      : `<tr class="beside"><td colspan="${columns.length}">${renderLines(cautions, 'caution')}</td></tr>`;
  return `<tr class="${tone}">${marks}</tr>${after}`;
}

function renderCell(
  { look, title }: SheetColumn,
  { text, under }: SheetCell,
  tone: SheetRow['tone'],
): string {
  const small = under === '' ? '' : `<span class="under">${escapeHtml(under)}</span>`;
  if (look === 'tick') {
    // A total is nothing to tick, nor is what passes by itself.
    if (tone === 'total' || text === 'none') return '<td class="tick"></td>';
    const isDone = text === 'done';
    return `<td class="tick"><span class="box${isDone ? ' done' : ''}" role="img" aria-label="${isDone ? 'done' : 'to tick off'}"></span></td>`;
  }
  if (look === 'tint') {
    const tint = text === '' ? '' : `<span class="swatch tint-${Number(text) % PIECE_TINTS.length}"></span>`;
    return `<td class="tint">${tint}</td>`;
  }
  if (look === 'write' && text === '') {
    return `<td class="write"><span class="room" role="img" aria-label="${escapeHtml(`room for: ${title}`)}"></span></td>`;
  }
  return `<td class="${look}">${escapeHtml(text)}${small}</td>`;
}

/** Sentences, each with its lead in bold. */
export function renderLines(
  lines: readonly SheetLine[],
  look: 'plain' | 'intro' | 'caution' | 'warning',
): string {
  return lines
    .map(({ lead, text }) => {
      const bold = lead === '' ? '' : `<b>${escapeHtml(lead)}.</b> `;
      return `<p class="${look}">${bold}${escapeHtml(joinUnits(text))}</p>`;
    })
    .join('');
}
