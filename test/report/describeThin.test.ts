import { describe, expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { describeThin } from '../../src/report/describeThin.ts';
import { sayRidgeMass } from '../../src/report/sayRidgeMass.ts';
import { buildSheet } from '../../src/report/sheet/buildSheet.ts';
import { madeUpResult } from './madeUpResult.ts';

const PLAN = newPlan('bust.stl');
const RESULT = madeUpResult();

describe('thin spots in the report and on the sheet', () => {
  it('the spots with where they are and what mends them, and the pins, in the units asked for', () => {
    const [thin, pins] = describeThin(PLAN, RESULT, 'metric');
    expect(thin.title).toBe('Thin spots: below 6.0 mm');
    const rows = thin.tables[0].rows.map((row) => row.cells.map((cell) => cell.text));
    expect(rows.map((row) => row.slice(1))).toContainEqual([
      'faces front, 200 mm up',
      '4.2 mm',
      '12.0 cm²',
      '4.6 g',
    ]);
    expect(thin.paragraphs.at(-1)?.lead).toBe('Model, not yet calibrated');
    expect(thin.paragraphs.at(-1)?.text).toContain('30.0 mm radius');
    expect(pins.tables[0].rows.map((row) => row.cells[0].text)).toEqual(['1']);
    const us = JSON.stringify(describeThin(PLAN, RESULT, 'us'));
    expect(us).not.toMatch(/\d (mm|cm²|g)\b/);
    expect(us).toContain('A ridge coat of 0.2 oz.');
  });

  it('says nothing while they are not worked out, and the sheet then has no such table', () => {
    const early = {
      ...RESULT,
      probes: [],
      pieces: RESULT.pieces.map((piece) => ({ ...piece, thin: null })),
    };
    expect(describeThin(PLAN, early, 'metric')).toEqual([]);
    const ids = (result: typeof RESULT) =>
      buildSheet(PLAN, result, null, 'metric').sections.map((section) => section.id);
    expect(ids(early)).not.toContain('probes');
    expect(ids(RESULT)).toContain('probes');
    const section = buildSheet(PLAN, RESULT, null, 'metric').sections.find(({ id }) => id === 'probes');
    const told = JSON.stringify(section);
    expect(told).toContain('faces front, 200 mm up');
    expect(told).toContain('A ridge coat of 5 g.');
  });

  it('a ridge coat that would print as nothing is said to be little', () => {
    expect(sayRidgeMass(0.04, 'metric')).toBe('under 0.1 g');
    expect(sayRidgeMass(4.6, 'metric')).toBe('4.6 g');
    expect(sayRidgeMass(0.9, 'us')).toBe('under 0.10 oz');
  });
});
