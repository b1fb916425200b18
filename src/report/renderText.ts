import { plainLine } from './plainLine.ts';
import type { Report, ReportFact, ReportSection, ReportTable } from './Report.ts';

/** Paragraphs are broken at this many characters, as a narrow terminal has; tables keep their own width. */
const TEXT_WIDTH = 80;
const GAP = '  ';

/**
 * The report as plain text with aligned columns, a newline at the end. Narrow and no-break spaces become plain ones,
 * so that every character takes one place and figures can be copied out; names from outside cannot steer a terminal.
 */
export function renderText(report: Report): string {
  const parts = [underline(report.title, '='), ...report.sections.map(renderSection)];
  return `${parts.join('\n\n')}\n`.replace(/[\u202f\u00a0]/g, ' ');
}

function renderSection(section: ReportSection): string {
  const blocks: string[] = [];
  if (section.facts.length > 0) blocks.push(renderFacts(section.facts));
  for (const table of section.tables) blocks.push(renderTable(table));
  for (const { lead, text } of section.paragraphs) {
    blocks.push(
      lead === '' ? wrapText(text, TEXT_WIDTH, '') : wrapText(`${lead}: ${text}`, TEXT_WIDTH, '  '),
    );
  }
  return [underline(section.title, '-'), ...blocks].join('\n');
}

function underline(title: string, stroke: string): string {
  return `${plainLine(title)}\n${stroke.repeat(title.length)}`;
}

function renderFacts(facts: readonly ReportFact[]): string {
  const width = Math.max(...facts.map((fact) => fact.label.length));
  return facts.map((fact) => `${fact.label.padEnd(width)}${GAP}${plainLine(fact.text)}`).join('\n');
}

/** A column of amounts is followed by one of their bounds, where any row has one. */
function renderTable(table: ReportTable): string {
  const columns = table.columns.map((column, c) => {
    const texts = table.rows.map((row) => plainLine(row.cells[c].text));
    const bounds = table.rows.map((row) => row.cells[c].bound);
    const boundWidth = Math.max(...bounds.map((bound) => bound.length), 0);
    const textWidth = Math.max(...texts.map((text) => text.length), column.title.length);
    return { column, texts, bounds, boundWidth, textWidth };
  });
  const line = (pick: (c: (typeof columns)[number]) => { text: string; bound: string }): string =>
    columns
      .map((c) => {
        const { text, bound } = pick(c);
        const body = c.column.align === 'right' ? text.padStart(c.textWidth) : text.padEnd(c.textWidth);
        return c.boundWidth === 0 ? body : `${body} ${bound.padEnd(c.boundWidth)}`;
      })
      .join(GAP)
      .trimEnd();
  const head = line((c) => ({ text: c.column.title, bound: '' }));
  const rows = table.rows.map((row, r) => ({
    isTotal: row.isTotal,
    text: line((c) => ({ text: c.texts[r], bound: c.bounds[r] })),
  }));
  const rule = '-'.repeat(Math.max(head.length, ...rows.map((row) => row.text.length)));
  const lines = [head, rule];
  for (const row of rows) {
    // The head's own rule stands above the first row already.
    if (row.isTotal && lines.length > 2) lines.push(rule);
    lines.push(row.text);
  }
  return lines.join('\n');
}

function wrapText(text: string, width: number, indent: string): string {
  const lines: string[] = [];
  let current = '';
  for (const word of text.split(/\s+/).map(plainLine)) {
    const room = width - (lines.length === 0 ? 0 : indent.length);
    if (current !== '' && current.length + 1 + word.length > room) {
      lines.push(current);
      current = word;
    } else {
      current = current === '' ? word : `${current} ${word}`;
    }
  }
  lines.push(current);
  return lines.map((line, n) => (n === 0 ? line : indent + line)).join('\n');
}
