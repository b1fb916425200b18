import { describe, expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { Report, ReportTable } from '../../src/report/Report.ts';
import { renderText } from '../../src/report/renderText.ts';
import { reportCheck } from '../../src/report/reportCheck.ts';
import { reportPlan } from '../../src/report/reportPlan.ts';
import { buildSheet } from '../../src/report/sheet/buildSheet.ts';
import { madeUpResult, madeUpUndercut } from './madeUpResult.ts';

const plan = newPlan('carp.ply');

function tableOf(report: Report, title: RegExp): ReportTable {
  const section = report.sections.find((one) => title.test(one.title));
  if (section === undefined || section.tables.length === 0) return expect.fail(`no table under ${title}`);
  return section.tables[0];
}

describe('reportPlan', () => {
  it('is plain JSON', () => {
    const report = reportPlan(plan, madeUpResult(), 'metric');
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it('has a row a piece and the whole, with bounds beside, in the units asked for', () => {
    const metric = tableOf(reportPlan(plan, madeUpResult(), 'metric'), /^Shell/);
    expect(metric.rows.map((row) => row.cells.map((cell) => cell.text))).toEqual([
      ['A', 'front', '270°', '600 cm²', '620 ml', '1.15 kg'],
      ['B', 'back', '90°', '900 cm²', '930 ml', '1.72 kg'],
      ['', 'Whole shell', '', '1\u202f500 cm²', '1\u202f550 ml', '2.87 kg'],
    ]);
    expect(metric.rows[0].cells[5].bound).toBe('± 0.006 kg');
    expect(metric.rows[2].isTotal).toBe(true);
    const us = tableOf(reportPlan(plan, madeUpResult(), 'us'), /^Shell/);
    // 1147 g / 28.349523125 = 40.459 oz = 2 lb 8.5 oz.
    expect(us.rows[0].cells[5].text).toBe('2 lb 8.5 oz');
  });

  it('has a row a coat and piece, and one a flange; none for a flange that adds nothing', () => {
    const result = madeUpResult();
    expect(tableOf(reportPlan(plan, result, 'metric'), /^Coats/).rows).toHaveLength(4 * 2 + 2);
    const flat = {
      ...result,
      pieces: result.pieces.map((piece) => ({ ...piece, flange: { ...piece.flange, volumeMm3: 0 } })),
    };
    expect(tableOf(reportPlan(plan, flat, 'metric'), /^Coats/).rows).toHaveLength(4 * 2);
  });

  it('weighs out batch by batch in the order in which things go in, and tells what to buy', () => {
    const result = madeUpResult();
    const report = reportPlan(plan, result, 'metric');
    expect(tableOf(report, /^Batches/).rows.map((row) => row.cells.map((cell) => cell.text))).toEqual([
      [
        'front',
        'Face',
        '1 of 1',
        'liquid 52\u00a0g, powder 130\u00a0g',
        '182\u00a0g',
        '98 ml',
        '15\u00a0min',
      ],
    ]);
    const [powder] = tableOf(report, /^To buy/).rows;
    expect(powder.cells.map((cell) => cell.text)).toEqual([
      'powder',
      '4.00 kg',
      '',
      '1 of 5.00 kg',
      '1.00 kg',
      '21.00\u00a0EUR',
      'and 2 of 1.00 kg',
    ]);
  });

  it('gives grams first in US units too, for the scales that batches are weighed on', () => {
    const [batch] = tableOf(reportPlan(plan, madeUpResult(), 'us'), /^Batches/).rows;
    expect(batch.cells[3].text).toBe('liquid 52\u00a0g (1.8 oz), powder 130\u00a0g (4.6 oz)');
  });

  it('says what is not worked out, and no more once it is', () => {
    const told = (result: ReturnType<typeof madeUpResult>): string =>
      renderText(reportPlan(plan, result, 'metric')).replace(/\s+/g, ' ');
    expect(told(madeUpResult())).toMatch(/Not worked out yet: undercuts and filler, other systems\./);
    const result = madeUpResult();
    const done = {
      ...result,
      pieces: result.pieces.map((piece) => ({
        ...piece,
        undercut: madeUpUndercut(),
      })),
    };
    expect(told(done)).not.toContain('undercuts and filler');
  });

  it('tells what locks, its worst spots, the order of removal and how a piece tips', () => {
    const result = madeUpResult();
    const prying = {
      frees: 'turn' as const,
      axis: { pointMm: [0, 0, 0] as const, direction: [0, 1, 0] as const, name: 'the foot' },
      worstMm: 0.4,
      turnDeg: 5,
    };
    const done = {
      ...result,
      removal: { order: ['B', 'A'], waits: [{ piece: 'A', by: 'B' }], locked: [] },
      pieces: result.pieces.map((piece) => ({ ...piece, undercut: { ...madeUpUndercut(), prying } })),
    };
    const report = reportPlan(plan, done, 'metric');
    const table = tableOf(report, /^Undercuts/);
    expect(table.rows[0].cells.map((cell) => cell.text)).toEqual([
      'A',
      '12.4 cm²',
      '6.2 mm',
      '4.3 ml',
      '4.7 g',
      '4.4 g',
      '-38.0°',
    ]);
    const text = renderText(report).replace(/\s+/g, ' ');
    expect(text).toContain('In this order: back, then front.');
    expect(text).toContain('No straight pull frees it, a small turn about the foot does: over 5°');
    expect(text).toContain('under an overhang of rubber');
    expect(text).toContain('faces away from the pull, within the give');
    const held = { ...done, removal: { order: [], waits: [], locked: ['A', 'B'] } };
    expect(renderText(reportPlan(plan, held, 'metric')).replace(/\s+/g, ' ')).toContain(
      'front and back hold each other',
    );
  });

  it('puts what cannot come off before all other notes, on the sheet too', () => {
    const result = madeUpResult();
    const prying = { frees: 'locked' as const, axis: null, worstMm: 3, turnDeg: 5 };
    const trapped = {
      ...result,
      removal: { order: [], waits: [], locked: ['A', 'B'] },
      pieces: result.pieces.map((piece, n) =>
        n === 0 ? { ...piece, undercut: { ...madeUpUndercut(), prying } } : piece,
      ),
    };
    const first = reportPlan(plan, trapped, 'metric').sections.find(
      ({ title }) => title === 'Look at these first',
    );
    const leads = first?.paragraphs.map(({ lead }) => lead);
    expect(leads?.slice(0, 2)).toEqual(['Coming off', 'Tipping A']);
    expect(buildSheet(plan, trapped, null, 'metric').warnings[0].text).toContain('hold each other');
    const free = { ...trapped, removal: null, pieces: result.pieces };
    expect(buildSheet(plan, free, null, 'metric').warnings[0]?.lead).not.toBe('Coming off');
  });

  it('shows rubber over a bare pattern, and an unclosed scan as unknown', () => {
    const result = madeUpResult();
    const layered = {
      ...result,
      rubber: {
        ...result.rubber,
        volumeMm3: null,
        layer: { thicknessMm: 9.5, volumeMm3: 1_400_000, volumeErrorMm3: 7000, massG: 1638 },
      },
    };
    const text = renderText(
      reportPlan({ ...plan, scan: { ...plan.scan, is: 'pattern' } }, layered, 'metric'),
    );
    expect(text).toContain('Rubber of 9.5 mm');
    expect(text).toContain('1.40 L ± 0.007 L, 1.64 kg');
    expect(text).toContain('not known: the scan does not close');
  });
});

describe('renderText', () => {
  const text = renderText(reportPlan(plan, madeUpResult(), 'metric'));

  it('keeps amounts under one another: every line of a table ends its columns at the same place', () => {
    const lines = text.split('\n');
    const from = lines.findIndex((line) => line.startsWith('Piece'));
    const rows = lines.slice(from, from + 6);
    const endOfMass = rows[0].indexOf('Mass') + 'Mass'.length;
    for (const row of [rows[2], rows[3], rows[5]]) expect(row.slice(endOfMass - 3, endOfMass)).toBe(' kg');
  });

  it('has no odd spaces and no overlong paragraph', () => {
    expect(text).not.toMatch(/[\u00a0\u202f]/);
    expect(text).not.toMatch(/ $/m);
    expect(text.endsWith('\n')).toBe(true);
    expect(text.endsWith('\n\n')).toBe(false);
    for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
  });

  it('ends with the cautions', () => {
    expect(text.trimEnd().endsWith('Mixing: Keep powder out of the air.')).toBe(true);
  });

  it('a check says the size both ways and every note', () => {
    const check = renderText(reportCheck('carp.ply', madeUpResult().scan, 'metric'));
    expect(check).toContain('230 mm × 160 mm × 274 mm (9 1/16 in × 6 5/16 in × 10 13/16 in)');
    expect(check).toContain('Note: The file has no unit; millimetres were taken.');
    expect(check).toContain('Put right: 12 vertices were welded.');
  });
});
