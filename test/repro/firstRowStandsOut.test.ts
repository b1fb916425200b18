import { expect, it } from 'vitest';
import { renderText } from '../../src/report/renderText.ts';

// The chosen system heads the comparison and stands out as totals do: two rules stood one under the other.
it('draws one rule under the head when the first row stands out', () => {
  const cell = (text: string) => ({ text, bound: '' });
  const row = (text: string, isTotal: boolean) => ({ cells: [cell(text)], isTotal });
  const table = {
    columns: [{ title: 'System', align: 'left' as const }],
    rows: [row('chosen', true), row('other', false), row('sum', true)],
  };
  const text = renderText({
    title: 'T',
    sections: [{ title: 'S', facts: [], tables: [table], paragraphs: [] }],
  });
  expect(text.split('\n').slice(5, -1)).toEqual(['System', '------', 'chosen', 'other', '------', 'sum']);
});
