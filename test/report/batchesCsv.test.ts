import { describe, expect, it } from 'vitest';
import type { PlanResult } from '../../src/core/PlanResult.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { planWork } from '../../src/core/work/planWork.ts';
import { batchesCsv } from '../../src/report/batchesCsv.ts';
import { boxGround } from '../core/work/log/boxGround.ts';
import { tradePlan } from '../fixtures/tradeGypsum.ts';
import { madeUpResult } from './madeUpResult.ts';

/** Reads what RFC 4180 allows and nothing else: throws at a bare quote, a bare line feed, an unclosed field. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let cell = '';
    if (text[at] === '"') {
      at++;
      for (;;) {
        if (at >= text.length) throw new Error('a quoted field is not closed');
        if (text[at] === '"' && text[at + 1] === '"') {
          cell += '"';
          at += 2;
        } else if (text[at] === '"') {
          at++;
          break;
        } else cell += text[at++];
      }
    } else {
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
        if (text[at] === '"' || text[at] === '\n')
          throw new Error(`bare ${JSON.stringify(text[at])} at ${at}`);
        cell += text[at++];
      }
    }
    row.push(cell);
    if (text[at] === ',') at++;
    else if (text[at] === '\r' && text[at + 1] === '\n') {
      at += 2;
      rows.push(row);
      row = [];
    } else throw new Error(`neither comma nor CR LF at ${at}`);
  }
  if (row.length > 0) throw new Error('the last line is not ended');
  return rows;
}

function tableOf(plan: PlanDocument, names: readonly [string, string] = ['front', 'back']) {
  const work = planWork(plan, boxGround(['A', 'B']));
  const made = madeUpResult();
  const result: PlanResult = {
    ...made,
    ...work,
    pieces: made.pieces.map((piece, n) => ({ ...piece, name: names[n] })),
  };
  const [header, ...rows] = readCsv(batchesCsv(plan, result));
  const column = (title: string, row: readonly string[]): string => {
    expect(header).toContain(title);
    return row[header.indexOf(title)];
  };
  return { batches: work.batches, header, rows, column };
}

const PLAN = tradePlan(newPlan('box.stl'));

describe('batches as CSV', () => {
  it('one line a batch, grams as they are weighed, room for the true weight', () => {
    const { batches, header, rows, column } = tableOf(PLAN);
    expect(rows).toHaveLength(batches.length);
    expect(rows.length).toBeGreaterThan(8);
    rows.forEach((row, n) => {
      const batch = batches[n];
      expect(row).toHaveLength(header.length);
      expect(column('Piece', row)).toBe(batch.piece === 'A' ? 'front' : 'back');
      expect(column('Coat', row)).toBe(batch.coat);
      expect(Number(column('Batch', row))).toBe(batch.number);
      for (const name of ['powder', 'liquid', 'thickener', 'accelerator', 'chopped glass']) {
        const massG = batch.componentsG[name];
        expect(column(`${name} (g)`, row)).toBe(massG === undefined ? '' : String(massG));
      }
      expect(Number(column('Mixed (g)', row))).toBe(batch.mixedG);
      expect(column('True weight (g)', row)).toBe('');
    });
  });

  it('true weights of the log stand in their place', () => {
    const batch = { piece: 'A', coat: 0, number: 1, mixedG: 512.5, leftG: 14, layMin: null, at: '' };
    const { rows, column } = tableOf({ ...PLAN, log: { ...PLAN.log, batches: [batch] } });
    expect(column('True weight (g)', rows[0])).toBe('512.5');
    expect(column('Left in the bucket (g)', rows[0])).toBe('14');
    expect(column('True weight (g)', rows[1])).toBe('');
  });

  it('quotes, commas and line breaks in names survive; nothing is read as a formula', () => {
    const coats = PLAN.coats.map((coat, n) => (n === 0 ? { ...coat, name: '=1+1' } : coat));
    const names = ['left, "lower"\nhalf', '@SUM(A1)'] as const;
    const { rows, column } = tableOf({ ...PLAN, coats }, names);
    expect(column('Piece', rows[0])).toBe(names[0]);
    expect(column('Piece', rows[rows.length - 1])).toBe(`'@SUM(A1)`);
    expect(column('Coat', rows[0])).toBe(`'=1+1`);
    for (const row of rows) for (const cell of row) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  });
});
