import type { SheetCell, SheetColumn, SheetLine, SheetRow, SheetTable } from './Sheet.ts';

/** A cell of plain words. */
export const cell = (text: string, under = ''): SheetCell => ({ text, under });

/** A row without anything special; words stand for cells without a second line. */
export function row(cells: readonly (SheetCell | string)[], tone: SheetRow['tone'] = 'plain'): SheetRow {
  return { cells: cells.map((one) => (typeof one === 'string' ? cell(one) : one)), tone, cautions: [] };
}

export const column = (title: string, look: SheetColumn['look'] = 'text'): SheetColumn => ({ title, look });

/** A table without a caption or introduction. */
export function table(
  columns: readonly SheetColumn[],
  rows: readonly SheetRow[],
  more: Partial<Pick<SheetTable, 'caption' | 'intro' | 'isWhole'>> = {},
): SheetTable {
  return { kind: 'table', caption: '', intro: [], isWhole: false, columns, rows, ...more };
}

export const line = (text: string, lead = ''): SheetLine => ({ lead, text });
