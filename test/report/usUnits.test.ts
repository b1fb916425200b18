import { beforeAll, describe, expect, it } from 'vitest';
import { computePlan } from '../../src/core/computePlan.ts';
import type { PlanResult } from '../../src/core/PlanResult.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { reportPlan } from '../../src/report/reportPlan.ts';
import { buildSheet } from '../../src/report/sheet/buildSheet.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { tradePlan } from '../fixtures/tradeGypsum.ts';

/** What of the metric system must not be left where US units were chosen; grams stay, as scales show them. */
const METRIC = /\d[\s\u00a0\u202f]?(mm|cm|m|kg|kPa|Pa|MPa|N|kN|ml|L|cm²|mm²|m²|°C)\b(?!³)/;
const METRIC_AREA = /(?:cm|mm|m)²|kg\/|g\/m²|a metre|square metre/;

/**
 * A plan in which much will not do, so that much is said: short of stock, a bucket that is too small, strips that are too
 * narrow, a coat that the log passed over; it is filled, lifted and floats.
 */
describe('an answer in US units', () => {
  let plan: PlanDocument;
  let result: PlanResult;
  beforeAll(async () => {
    const trade = tradePlan(
      shapePlan({
        scan: { board: 0 },
        parting: { pieceCount: 2, pullAzimuthsDeg: [0] },
        flange: { widthMm: 60, thicknessMm: 10 },
      }),
    );
    plan = {
      ...trade,
      stock: [{ item: 'powder', massG: 100 }],
      bench: { ...trade.bench, mixerMostG: 0.5 },
      log: {
        ...trade.log,
        batches: [
          {
            piece: 'A',
            coat: 0,
            number: 1,
            mixedG: 5,
            leftG: null,
            layMin: null,
            at: '2026-12-01T09:00:00Z',
          },
          {
            piece: 'A',
            coat: 1,
            number: 1,
            mixedG: 10,
            leftG: null,
            layMin: null,
            at: '2026-12-01T09:00:00Z',
          },
        ],
      },
    };
    result = await computePlan(plan, openHalfSphere(60, 40), { until: 'amounts' });
  });

  it('says much that holds a quantity', () => {
    const codes = new Set(result.workNotes.map(({ code }) => code));
    expect([...codes]).toEqual(
      expect.arrayContaining(['short-of-stock', 'bucket-too-small', 'shim-too-narrow', 'log-gap']),
    );
    expect(result.casting?.screening.length).toBeGreaterThan(0);
    expect(result.handling.length).toBeGreaterThan(0);
    expect(result.shopping.some(({ say }) => METRIC.test(say))).toBe(true);
    expect(result.cautions.some(({ text }) => METRIC.test(text))).toBe(true);
  });

  it('leaves nothing metric in notes, shopping, loads, lifts and cautions of the sheet', () => {
    const sheet = buildSheet(plan, result, null, 'us');
    const told = [
      ...sheet.warnings,
      ...sheet.sections.filter(({ id }) => ['buy', 'lifting', 'casting', 'take-care', 'day'].includes(id)),
      ...sheet.closing,
    ];
    expectNoMetric(stringsOf(told));
    // The very check finds them where metric was asked for.
    expect(stringsOf(buildSheet(plan, result, null, 'metric').sections).some(isMetric)).toBe(true);
  });

  it('leaves nothing metric in the same parts of the report', () => {
    const parts = /^(Look at these|To buy|Filled|In the hand|Cautions|The same shell)/;
    const sections = reportPlan(plan, result, 'us').sections.filter(({ title }) => parts.test(title));
    expect(sections.length).toBeGreaterThanOrEqual(5);
    expectNoMetric(stringsOf(sections));
  });
});

function isMetric(text: string): boolean {
  return METRIC.test(text) || METRIC_AREA.test(text);
}

function expectNoMetric(texts: readonly string[]): void {
  expect(texts.length).toBeGreaterThan(20);
  expect(texts.filter(isMetric)).toEqual([]);
}

/** Every string in plain data. */
function stringsOf(data: unknown): string[] {
  if (typeof data === 'string') return [data];
  return data !== null && typeof data === 'object' ? Object.values(data).flatMap(stringsOf) : [];
}
