import { beforeAll, describe, expect, it } from 'vitest';
import { computePlan } from '../../../src/core/computePlan.ts';
import type { PlanResult, TaskKind, TaskResult } from '../../../src/core/PlanResult.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';
import { stepsAfter, tellStep } from '../../../src/ui/bench/tellStep.ts';
import { shapePlan } from '../../fixtures/planShape.ts';
import { openHalfSphere } from '../../fixtures/shapes.ts';
import { tradePlan } from '../../fixtures/tradeGypsum.ts';

const RADIUS_MM = 60;

/** A half ball in two halves: the line runs over its top from board to board, a half circle of pi R. */
describe('what is told at a step without a bucket', () => {
  let plan: PlanDocument;
  let result: PlanResult;
  beforeAll(async () => {
    plan = tradePlan(
      shapePlan({
        scan: { board: 0 },
        parting: { pieceCount: 2, pullAzimuthsDeg: [0] },
        flange: { widthMm: 40, thicknessMm: 10 },
      }),
    );
    plan = { ...plan, resolutionMm: 3 };
    result = await computePlan(plan, openHalfSphere(RADIUS_MM, 24), { until: 'amounts' });
  }, 60_000);

  const first = (kind: TaskKind): TaskResult => {
    const task = result.schedule.find((one) => one.kind === kind);
    if (!task) throw new Error(`No step of kind ${kind}.`);
    return task;
  };
  const figure = (kind: TaskKind, name: RegExp, units: 'metric' | 'us' = 'metric'): string =>
    tellStep(first(kind), result, plan, units).figures.find((one) => name.test(one.name))?.text ?? '';

  it('every kind says what to do, with a figure', () => {
    const kinds = new Set(result.schedule.map(({ kind }) => kind).filter((kind) => kind !== 'batch'));
    expect(kinds.size).toBeGreaterThanOrEqual(9);
    for (const kind of kinds) {
      const { todo, figures } = tellStep(first(kind), result, plan, 'metric');
      expect(todo.length, kind).toBeGreaterThan(0);
      expect(figures.length, kind).toBeGreaterThan(0);
      for (const { name, text } of figures) expect(`${name}: ${text}`).not.toMatch(/NaN|undefined|null|: $/);
    }
  });

  it('the wall is as long as the line, in either system', () => {
    // pi R = 188.5 mm; 7 7/16 in, 7.42 in (own arithmetic). Facets take a little off.
    expect(Number.parseFloat(figure('wall', /^Line towards/))).toBeCloseTo(Math.PI * RADIUS_MM, -1);
    expect(figure('wall', /^Line towards/, 'us')).toMatch(/^7 (3\/8|7\/16) in$/);
    // The second half stands against the first and needs none.
    expect(result.schedule.filter(({ kind }) => kind === 'wall')).toHaveLength(1);
    expect([figure('wall', /^Flange, wide/), figure('wall', /^Flange, thick/)]).toEqual([
      '40.0 mm',
      '10.0 mm',
    ]);
  });

  it('set out: all that the piece’s batches take, and what is on the wall already no more', () => {
    const task = first('set-out');
    const own = result.batches.filter(({ piece }) => piece === task.piece);
    expect(figure('set-out', /^Batches/)).toBe(String(own.length));
    const logged = {
      ...result,
      batches: result.batches.map((one, n) => (n === 0 ? { ...one, loggedG: 1 } : one)),
    };
    const { figures } = tellStep(task, logged, plan, 'metric');
    expect(figures[0].text).toBe(String(own.length - (result.batches[0].piece === task.piece ? 1 : 0)));
  });

  it('a wait names the next coat with its thickness; the last one is the full cure', () => {
    const cures = result.schedule.filter(({ kind, piece }) => kind === 'cure' && piece === 'A');
    const [face, build] = plan.coats;
    const words = tellStep(cures[0], result, plan, 'metric').figures;
    expect(words[0].name).toBe(face.name);
    expect(words.find(({ name }) => name === `Then ${build.name}`)?.text).toMatch(
      new RegExp(`^${build.thicknessMm.toFixed(1)} mm, `),
    );
    expect(tellStep(cures[cures.length - 1], result, plan, 'metric').figures[1].name).toBe('Full cure');
  });

  it('what waits for a step follows it on the clock', () => {
    const release = first('release');
    const after = stepsAfter(release, result.schedule);
    expect(after.map(({ kind }) => kind).sort()).toEqual(['dry', 'set-out']);
    for (const one of after) expect(one.startMin).toBeGreaterThanOrEqual(release.endMin);
    expect(stepsAfter(first('assemble'), result.schedule)).toEqual([]);
  });
});
