import { beforeAll, describe, expect, it } from 'vitest';
import { computePlan } from '../../src/core/computePlan.ts';
import type { BatchResult, PlanResult, TaskResult } from '../../src/core/PlanResult.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { tradePlan } from '../fixtures/tradeGypsum.ts';

/**
 * The trade's check values, common practice, no source: a plan that is set up with them gives them back, in the order of the
 * work, for both halves. From the scan to the clock, over a half ball of 60 mm on its board.
 */
describe('a plan set up with the trade’s values', () => {
  let result: PlanResult;
  beforeAll(async () => {
    const plan = tradePlan(
      shapePlan({
        scan: { board: 0 },
        parting: { pieceCount: 2, pullAzimuthsDeg: [0] },
        flange: { widthMm: 30, thicknessMm: 10 },
      }),
    );
    result = await computePlan(
      { ...plan, day: { ...plan.day, stepMin: { ...plan.day.stepMin, releaseDry: 25 } } },
      openHalfSphere(60, 40),
      { until: 'amounts' },
    );
  });
  const coatOf = (number: number): BatchResult[] =>
    result.batches.filter((batch) => batch.coatNumber === number);
  const ratio = ({ componentsG: g }: BatchResult, a: string, b: string): number => g[a] / g[b];

  it('four coats to 3/8 in for each half, one half after the other', () => {
    expect(result.shell.thicknessMm).toBeCloseTo(9.525, 9);
    const order = result.batches.map((batch) => `${batch.piece}${batch.coatNumber}`);
    expect([...new Set(order)]).toEqual(['A0', 'A1', 'A2', 'A3', 'B0', 'B1', 'B2', 'B3']);
  });

  it('powder to liquid 100 to 50; thickener 2 % of the liquid, 4 g to 200 g, in coats 1, 2 and 4', () => {
    for (const batch of result.batches) {
      expect(ratio(batch, 'powder', 'liquid')).toBeGreaterThan(2 * 0.98);
      expect(ratio(batch, 'powder', 'liquid')).toBeLessThan(2 * 1.02);
    }
    for (const batch of [0, 1, 3].flatMap(coatOf)) {
      expect(200 * ratio(batch, 'thickener', 'liquid')).toBeGreaterThan(4 * 0.96);
      expect(200 * ratio(batch, 'thickener', 'liquid')).toBeLessThan(4 * 1.04);
      expect(batch.componentsG).not.toHaveProperty('accelerator');
      expect(batch.workingTimeMin).toBe(30);
    }
  });

  it('coat 3: 6 % of 19 mm glass stirred in last for no more than 30 s, accelerator at 5 % of the liquid from 40 g in 480 g, 7 min', () => {
    expect(coatOf(2).length).toBeGreaterThanOrEqual(2);
    for (const batch of coatOf(2)) {
      const { liquid, powder, accelerator } = batch.componentsG;
      const glass = batch.componentsG['chopped glass'];
      expect(accelerator / liquid).toBeGreaterThan(0.05 * 0.96);
      expect(accelerator / liquid).toBeLessThan(0.05 * 1.04);
      expect(glass / (liquid + powder + accelerator)).toBeGreaterThan(0.06 * 0.97);
      expect(glass / (liquid + powder + accelerator)).toBeLessThan(0.06 * 1.03);
      expect(batch.workingTimeMin).toBe(7);
      expect(batch.steps.at(-1)?.item).toBe('chopped glass');
      expect(batch.steps.at(-1)?.say).toMatch(/30 s/);
      expect(batch.steps.find((step) => step.item === 'accelerator')?.say).toMatch(/40\sg in 480\sg/);
    }
  });

  it('waits of 60, 60, 30 and 90 min, and release 25 min to dry, for both halves in order', () => {
    const lasts = (task: TaskResult): number => Math.round(task.endMin - task.startMin);
    for (const piece of ['A', 'B']) {
      const own = result.schedule.filter((task) => task.piece === piece);
      expect(own.filter((task) => task.kind === 'cure').map(lasts)).toEqual([60, 60, 30, 90]);
      expect(own.filter((task) => task.kind === 'dry').map(lasts)).toEqual([25]);
      const shimsOut = own.find((task) => task.kind === 'shims');
      const lastCure = own.filter((task) => task.kind === 'cure').at(-1);
      if (shimsOut) expect(shimsOut.startMin).toBeGreaterThanOrEqual(lastCure?.endMin ?? Infinity);
    }
    const endOfA = result.schedule.find((task) => task.piece === 'A' && task.kind === 'clean');
    const startOfB = result.schedule.find((task) => task.piece === 'B' && task.kind === 'release');
    expect(startOfB?.startMin).toBeGreaterThanOrEqual(endOfA?.endMin ?? Infinity);
  });

  it('every step of the batches lies within the working time, mixing and margin taken off', () => {
    for (const batch of result.batches) {
      expect(batch.mixMin + batch.layMin).toBeLessThanOrEqual(batch.workingTimeMin - 2 + 1e-9);
    }
  });
});
