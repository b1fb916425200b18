import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
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

  it('opens a plan of the version before the undercuts, with their defaults', () => {
    const plan = newPlan('bust.stl');
    const { rubberGiveMm, notHere, blockOut, ...parting } = plan.parting;
    const old = { ...plan, schema: 'scute-plan/1', parting };
    expect(parsePlan(JSON.parse(JSON.stringify(old)))).toEqual(plan);
    expect([rubberGiveMm, notHere, blockOut]).toEqual([1.5, [], []]);
    expect(errorOf({ ...old, parting: 3 }).message).toContain('parting');
  });

  it('takes accepted filler as all or by points', () => {
    expect(() => parsePlan(planWith('parting.blockOut', 'all'))).not.toThrow();
    expect(() => parsePlan(planWith('parting.blockOut', [[1, 2, 3]]))).not.toThrow();
    expect(errorOf(planWith('parting.blockOut', 'some')).message).toContain('blockOut');
    expect(errorOf(planWith('parting.rubberGiveMm', -1)).message).toContain('rubberGiveMm');
  });

  it('tells a later version and no plan at all apart', () => {
    expect(errorOf(planWith('schema', 'scute-plan/3')).code).toBe('newer-plan');
    expect(errorOf(planWith('schema', 'scute-plan/0')).code).toBe('bad-plan');
    expect(errorOf(planWith('schema', 'something/1')).code).toBe('bad-plan');
    for (const json of [null, 3, 'x', [], undefined, {}]) expect(errorOf(json).code).toBe('bad-plan');
  });
});
