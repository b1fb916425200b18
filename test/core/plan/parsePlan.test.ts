import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { mixOf } from '../../../src/core/material/mixOf.ts';
import { plainMassG } from '../../../src/core/material/plainMassG.ts';
import { LEAVABLE_REPAIRS } from '../../../src/core/plan/leavableRepairs.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { parsePlan } from '../../../src/core/plan/parsePlan.ts';
import { serialisePlan } from '../../../src/core/plan/serialisePlan.ts';

type Loose = Record<string, unknown>;

/** A fresh, changeable copy of the default plan with the value at a dotted path replaced, or removed when undefined. */
function planWith(path: string, value: unknown): unknown {
  const plan = structuredClone(newPlan('bust.stl')) as unknown as Loose;
  const keys = path.split('.');
  let at = plan;
  for (const key of keys.slice(0, -1)) at = at[key] as Loose;
  const last = keys[keys.length - 1];
  if (value === undefined) delete at[last];
  else at[last] = value;
  return plan;
}

/** The demo's plan as the first version kept it. */
function firstPlan(): Loose {
  return JSON.parse(readFileSync(new URL('../../fixtures/fish-plan-1.scute.json', import.meta.url), 'utf8'));
}

const twice = <Item>(item: Item): Item[] => [item, item];

function errorOf(json: unknown): PlanError {
  try {
    parsePlan(json);
  } catch (error) {
    if (error instanceof PlanError) return error;
    throw error;
  }
  return expect.fail('was taken as a plan');
}

describe('newPlan', () => {
  it('is a plan by its own schema, with four coats of 9.5 mm', () => {
    const plan = newPlan('garden-bust_02.stl');
    expect(parsePlan(plan)).toEqual(plan);
    expect(plan.coats.map((coat) => coat.kind)).toEqual(['face', 'build', 'reinforced', 'finish']);
    expect(plan.coats.reduce((sum, coat) => sum + coat.thicknessMm, 0)).toBe(9.5);
    expect(plan.job.name).toBe('garden bust 02');
  });
});

describe('serialisePlan', () => {
  it('comes back the same', () => {
    const plan = newPlan('a.ply');
    expect(parsePlan(JSON.parse(serialisePlan(plan)))).toEqual(plan);
  });
  it('refuses to write what could not be read again', () => {
    const plan = newPlan('a.ply');
    expect(() => serialisePlan({ ...plan, leastThicknessMm: Number.NaN })).toThrow(PlanError);
  });
});

describe('parsePlan', () => {
  const wrong: [string, unknown, string, RegExp][] = [
    ['coats.1.thicknessMm', -3, 'coats.1.thicknessMm', /greater than 0/],
    ['coats.1.thicknessMm', Number.NaN, 'coats.1.thicknessMm', /not a number/],
    ['coats.1.thicknessMm', '2.5', 'coats.1.thicknessMm', /not a number/],
    ['coats.0.kind', 'splash', 'coats.0.kind', /face, build, reinforced, finish/],
    ['coats', [], 'coats', /at least one coat/],
    ['scan.scale', 0, 'scan.scale', /less than/],
    ['scan.scale', Infinity, 'scan.scale', /finite/],
    ['scan.unit', 'yard', 'scan.unit', /auto, mm, cm, m, in, ft/],
    ['scan.board', 'low', 'scan.board', /neither/],
    ['scan.board', Number.NaN, 'scan.board', /neither|not a number/],
    ['scan.crops', [{ normal: [0, 0, 2], offsetMm: 0 }], 'scan.crops.0.normal.2', /more than/],
    ['scan.crops', [{ normal: [0, 0, 0.5], offsetMm: 0 }], 'scan.crops.0.normal', /length 1/],
    [
      'parting.lines',
      [{ id: 'l1', points: [[0, 0, 0]], closed: false }],
      'parting.lines.0.points',
      /fewer than two/,
    ],
    [
      'parting.lines',
      [
        {
          id: 'l1',
          points: [
            [0, 0, 0],
            [1, 0, 'x'],
          ],
          closed: false,
        },
      ],
      'parting.lines.0.points.1.2',
      /not a number/,
    ],
    [
      'parting.lines',
      [
        {
          id: 'l1',
          points: [
            [0, 0, 0],
            [1, 0, 0],
          ],
          closed: true,
        },
      ],
      'parting.lines.0.points',
      /three points/,
    ],
    ['parting.pieceCount', 2.5, 'parting.pieceCount', /whole/],
    ['parting.flange', { widthMm: 40, thickness: 12 }, 'parting.flange.thicknessMm', /missing/],
    ['material.airShare', 1, 'material.airShare', /more than/],
    ['material.components.0.densityGPerCm3', 2700, 'material.components.0.densityGPerCm3', /more than/],
    ['coats.0.additives', [{ name: 'thickener', doseShare: -0.02 }], 'coats.0.additives.0.doseShare', /less/],
    ['coats.0.additives', twice({ name: 'thickener', doseShare: 0.02 }), 'coats.0.additives', /twice/],
    ['coats.2.waitMin', Number.NaN, 'coats.2.waitMin', /not a number/],
    ['bench.scales', [], 'bench.scales', /at least one scale/],
    ['bench.bucketFillShare', 0, 'bench.bucketFillShare', /greater than 0/],
    ['bench.paceCm2PerMin.face', 0, 'bench.paceCm2PerMin.face', /greater than 0/],
    ['bench.hands', 1.5, 'bench.hands', /whole/],
    ['day.startDate', '2026-02-30', 'day.startDate', /no day of the calendar/],
    ['day.startDate', '1.12.2026', 'day.startDate', /2026-12-01/],
    ['day.stepMin.releaseDry', -1, 'day.stepMin.releaseDry', /less than/],
    ['casting.densityGPerCm3', 0, 'casting.densityGPerCm3', /greater than 0/],
    ['casting.attitude', 'sideways', 'casting.attitude', /as-built/],
    ['lifting.grip', 'firm', 'lifting.grip', /good, fair, poor/],
    ['stock', [{ item: 'powder', massG: -5 }], 'stock.0.massG', /less than/],
    ['scan.units', 'mm', 'scan.units', /no key that is known/],
    ['scan.tiltDeg', undefined, 'scan.tiltDeg', /missing/],
    ['resolutionMm', 'fine', 'resolutionMm', /neither/],
    ['resolutionMm', 0, 'resolutionMm', /less than/],
    ['colour', 'red', 'colour', /no key that is known/],
  ];
  it.each(wrong)('%s = %j is refused by field', (path, value, field, sentence) => {
    const error = errorOf(planWith(path, value));
    expect(error.code).toBe('bad-plan');
    expect(error.field).toBe(field);
    expect(error.message).toMatch(sentence);
    expect(error.message).toContain(field);
  });

  it('takes every form that the contract allows', () => {
    const lines = [
      {
        id: 'l1',
        points: [
          [0, 0, 0],
          [1, 0, 0],
          [1, 1, 0],
        ],
        closed: true,
      },
    ];
    expect(() => parsePlan(planWith('parting.lines', lines))).not.toThrow();
    expect(() => parsePlan(planWith('parting.flange', null))).not.toThrow();
    expect(() => parsePlan(planWith('parting.pullAzimuthsDeg', [0, 120, 240]))).not.toThrow();
    expect(() => parsePlan(planWith('scan.board', 'none'))).not.toThrow();
    expect(() => parsePlan(planWith('scan.board', -12.5))).not.toThrow();
    expect(() => parsePlan(planWith('resolutionMm', 0.5))).not.toThrow();
  });

  it('opens a plan of the version before the undercuts, with the defaults of all that came since', () => {
    const now = newPlan('fountain-fish.ply');
    const plan = parsePlan(firstPlan());
    expect(plan.parting).toEqual({ ...now.parting, pullAzimuthsDeg: [270] });
    expect([plan.bench, plan.supplies, plan.stock, plan.day, plan.casting, plan.lifting, plan.log]).toEqual([
      now.bench,
      now.supplies,
      now.stock,
      now.day,
      now.casting,
      now.lifting,
      now.log,
    ]);
    expect(plan.coats).toEqual(now.coats);
    expect(mixOf(plan.material, now.coats[2]).densityGPerCm3).toBe(
      mixOf(now.material, now.coats[2]).densityGPerCm3,
    );
    expect(errorOf({ ...firstPlan(), parting: 3 }).message).toContain('parting');
    expect(errorOf({ ...firstPlan(), coats: 3 }).message).toContain('coats');
    expect(errorOf({ ...firstPlan(), material: 3 }).message).toContain('material');
  });

  it('keeps the values of an older plan’s own material', () => {
    const first = firstPlan();
    const material = { ...(first['material'] as Loose), lossShare: 0.11, rubberDensityGPerCm3: 1.28 };
    const plan = parsePlan({ ...first, material });
    expect(plan.material.lossShare).toBe(0.11);
    expect(plainMassG(plan.rubber, 1000)).toBeCloseTo(1.28, 9);
  });

  it('takes accepted filler as all or by points', () => {
    expect(() => parsePlan(planWith('parting.blockOut', 'all'))).not.toThrow();
    expect(() => parsePlan(planWith('parting.blockOut', [[1, 2, 3]]))).not.toThrow();
    expect(errorOf(planWith('parting.blockOut', 'some')).message).toContain('blockOut');
    expect(errorOf(planWith('parting.rubberGiveMm', -1)).message).toContain('rubberGiveMm');
  });

  it('reads the one ball of an area of version 3 as one dab, and levels its last coat', () => {
    const ball = { name: 'key', centreMm: [1, 2, 3], radiusMm: 4 };
    const { trowelRadiusMm: _later, ...older } = planWith('scan.keepClear', [ball]) as Record<
      string,
      unknown
    >;
    const plan = parsePlan({ ...older, schema: 'scute-plan/3' });
    expect(plan.scan.keepClear).toEqual([{ name: 'key', radiusMm: 4, dabsMm: [[1, 2, 3]] }]);
    expect(plan.trowelRadiusMm).toBeGreaterThan(0);
  });

  it('mends all in a plan of version 4, and holds the repairs left undone to those that can be', () => {
    const { scan, ...others } = newPlan('bust.stl');
    const { leave: _later, ...older } = scan;
    expect(parsePlan({ ...others, scan: older, schema: 'scute-plan/4' }).scan.leave).toEqual([]);
    expect(errorOf({ ...others, scan: 3, schema: 'scute-plan/4' }).message).toContain('scan');
    expect(() => parsePlan(planWith('scan.leave', [...LEAVABLE_REPAIRS]))).not.toThrow();
    for (const wrong of [['faces-turned'], ['holes-filled', 'holes-filled'], 'holes-filled', [3]]) {
      expect(errorOf(planWith('scan.leave', wrong)).message).toContain('scan.leave');
    }
    expect(errorOf(planWith('scan.leave', ['faces-turned'])).message).toContain('inner-parts-dropped');
  });

  it('tells a later version and no plan at all apart', () => {
    expect(errorOf(planWith('schema', 'scute-plan/6')).code).toBe('newer-plan');
    expect(errorOf(planWith('schema', 'scute-plan/0')).code).toBe('bad-plan');
    expect(errorOf(planWith('schema', 'something/1')).code).toBe('bad-plan');
    for (const json of [null, 3, 'x', [], undefined, {}]) expect(errorOf(json).code).toBe('bad-plan');
  });
});
