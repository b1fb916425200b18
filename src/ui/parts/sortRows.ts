import type { SortCell, SortRow } from './SortRow.ts';

/** By which column and which way; null: as the work goes. */
export type SortOrder = { readonly key: string; readonly isDown: boolean } | null;

const words = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/**
 * The rows in the order asked for: numbers by size, texts as in a dictionary ("batch 2" before "batch 10"), numbers before
 * texts. What is not known stands last either way. Rows that are equal stay in the order of the work.
 */
export function sortRows(rows: readonly SortRow[], order: SortOrder): readonly SortRow[] {
  if (order === null) return rows;
  const { key, isDown } = order;
  return rows.toSorted((a, b) => {
    const [one, other] = [sortValueOf(a.cells[key]), sortValueOf(b.cells[key])];
    if (one === null || other === null) return Number(one === null) - Number(other === null);
    const turn = compare(one, other);
    return isDown ? -turn : turn;
  });
}

/** What a press on a column's head does: up, then down, then as the work goes. */
export function nextOrder(order: SortOrder, key: string): SortOrder {
  if (order?.key !== key) return { key, isDown: false };
  return order.isDown ? null : { key, isDown: true };
}

function sortValueOf(cell: SortCell | undefined): number | string | null {
  if (!cell) return null;
  const value = cell.value === undefined ? cell.text : cell.value;
  return value === '' || Number.isNaN(value) ? null : value;
}

function compare(a: number | string, b: number | string): number {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  if (typeof a === 'string' && typeof b === 'string') return words.compare(a, b);
  return typeof a === 'number' ? -1 : 1;
}
