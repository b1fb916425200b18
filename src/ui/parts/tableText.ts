import type { SortCell, SortColumn, SortRow } from './SortRow.ts';

/**
 * A table as text that a spreadsheet takes: a line a row, cells parted by tabs, the heads first, with the units as they are
 * shown. What stands below a value follows it in the same cell: "1.87 kg ± 5 g".
 */
export function tableText(columns: readonly SortColumn[], rows: readonly SortRow[]): string {
  const lines = [
    columns.map(({ title }) => plain(title)),
    ...rows.map(({ cells }) => columns.map(({ key }) => sayCell(cells[key]))),
  ];
  return lines.map((line) => line.join('\t')).join('\n');
}

function sayCell(cell: SortCell | undefined): string {
  return cell ? plain([cell.text, ...(cell.under ?? [])].join(' ')) : '';
}

/** Spaces that only a typesetter knows become plain ones; tabs and line ends would break the table. */
function plain(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
