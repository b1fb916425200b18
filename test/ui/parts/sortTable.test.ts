import { describe, expect, it } from 'vitest';
import type { SortCell, SortRow } from '../../../src/ui/parts/SortRow.ts';
import { nextOrder, sortRows } from '../../../src/ui/parts/sortRows.ts';
import { tableText } from '../../../src/ui/parts/tableText.ts';

const row = (key: string, mass: SortCell, name = key): SortRow => ({
  key,
  cells: { name: { text: name }, mass },
});
const rows = [
  row('a', { text: '1.2 kg', value: 1200 }),
  row('b', { text: '310 g', value: 310 }),
  row('c', { text: '\u2013', value: null }),
  row('d', { text: '310 g', value: 310 }),
];
const keys = (sorted: readonly SortRow[]) => sorted.map(({ key }) => key).join('');

describe('sorting', () => {
  it('goes by size, not by what is written; equals keep the order of the work; what is not known is last both ways', () => {
    expect(keys(sortRows(rows, { key: 'mass', isDown: false }))).toBe('bdac');
    expect(keys(sortRows(rows, { key: 'mass', isDown: true }))).toBe('abdc');
    expect(keys(sortRows(rows, null))).toBe('abcd');
    expect(keys(rows)).toBe('abcd');
  });

  it('texts as in a dictionary, numbers in them by size; numbers before texts', () => {
    const named = ['batch 10', 'Batch 2', 'batch 1'].map((name, n) => row(String(n), { text: '' }, name));
    expect(keys(sortRows(named, { key: 'name', isDown: false }))).toBe('210');
    const mixed = [
      row('t', { text: 'pressed on' }),
      row('n', { text: '5 N', value: 5 }),
      row('e', { text: '' }),
    ];
    expect(keys(sortRows(mixed, { key: 'mass', isDown: false }))).toBe('nte');
  });

  it('a column that a row lacks counts as not known', () => {
    expect(keys(sortRows([{ key: 'x', cells: {} }, ...rows], { key: 'mass', isDown: true }))).toBe('abdxc');
  });

  it('presses go up, down, and back to the work; another column begins anew', () => {
    const up = nextOrder(null, 'mass');
    expect(up).toEqual({ key: 'mass', isDown: false });
    const down = nextOrder(up, 'mass');
    expect(down).toEqual({ key: 'mass', isDown: true });
    expect(nextOrder(down, 'mass')).toBeNull();
    expect(nextOrder(down, 'name')).toEqual({ key: 'name', isDown: false });
  });
});

describe('the table as text', () => {
  it('heads, units and bounds as shown; nothing in a cell breaks the lines', () => {
    const columns = [
      { key: 'name', title: 'Piece' },
      { key: 'mass', title: 'Weight,\u00a0g' },
    ];
    const text = tableText(columns, [
      row('a', { text: '1\u202f200', under: ['\u00b1 5\u00a0g'] }, 'A\u00a0front\n(left)'),
      { key: 'b', cells: {} },
    ]);
    expect(text).toBe('Piece\tWeight, g\nA front (left)\t1 200 \u00b1 5 g\n\t');
  });
});
