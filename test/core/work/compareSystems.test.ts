import { describe, expect, it } from 'vitest';
import { BUILT_IN_MATERIALS } from '../../../src/core/material/builtInMaterials.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';
import { compareSystems } from '../../../src/core/work/compareSystems.ts';
import { planWork } from '../../../src/core/work/planWork.ts';
import { tradeGypsum, tradePlan } from '../../fixtures/tradeGypsum.ts';
import { boxGround } from './log/boxGround.ts';

const PLAN: PlanDocument = newPlan('box.stl');
const GROUND = boxGround(['A', 'B'], true);
const ownMm = (plan: PlanDocument): number => plan.coats.reduce((sum, coat) => sum + coat.thicknessMm, 0);

describe('other systems for this very shell', () => {
  const rows = compareSystems(PLAN, BUILT_IN_MATERIALS, () => GROUND, planWork);

  it('the chosen one first, then every system that shells are made of, once', () => {
    expect(rows.map((row) => row.isChosen)).toEqual(rows.map((_, n) => n === 0));
    expect(rows[0].systemId).toBe(PLAN.material.id);
    const shells = BUILT_IN_MATERIALS.filter((system) => system.uses.includes('shell'));
    expect(new Set(rows.map((row) => row.systemId))).toEqual(new Set(shells.map((system) => system.id)));
    expect(rows).toHaveLength(shells.length);
  });

  it('each at the thickness that is usual for it, and asked for the ground at that thickness', () => {
    const asked: number[] = [];
    const groundFor = (thicknessMm: number) => {
      asked.push(thicknessMm);
      return GROUND;
    };
    const again = compareSystems(PLAN, BUILT_IN_MATERIALS, groundFor, planWork);
    again.forEach((row, n) => {
      const system = BUILT_IN_MATERIALS.find((one) => one.id === row.systemId);
      const expected = row.isChosen ? ownMm(PLAN) : system?.shellMm?.usual;
      expect(row.thicknessMm).toBeCloseTo(expected ?? Number.NaN, 9);
      expect(asked[n]).toBeCloseTo(expected ?? Number.NaN, 9);
    });
  });

  it('the chosen row is the plan’s own work', () => {
    const { coatWork, batches, day, cost } = planWork(PLAN, GROUND);
    const sum = (of: 'volumeMm3' | 'massG' | 'dryMassG', piece?: string): number =>
      coatWork
        .filter((coat) => piece === undefined || coat.piece === piece)
        .reduce((total, coat) => total + coat[of], 0);
    expect(rows[0].volumeMm3).toBeCloseTo(sum('volumeMm3'), 6);
    expect(rows[0].massG).toBeCloseTo(sum('massG'), 6);
    expect(rows[0].dryMassG).toBeCloseTo(sum('dryMassG'), 6);
    expect(rows[0].heaviestG).toBeCloseTo(sum('dryMassG', 'A'), 6);
    expect(rows[0]).toMatchObject({
      batches: batches.length,
      attendedMin: day.attendedMin,
      cost: cost.total,
    });
    expect(rows[0].elapsedMin).toBeGreaterThanOrEqual(rows[0].attendedMin);
  });

  it('a plain system of another density at the same thickness weighs by that density', () => {
    const coats = [{ ...PLAN.coats[0], thicknessMm: 10 }];
    const [powder] = tradeGypsum.components;
    const plain = (id: string, densityGPerCm3: number) => ({
      ...tradeGypsum,
      id,
      components: [{ ...powder, densityGPerCm3, bindsWaterShare: 0 }],
      additives: [],
      mixing: { ...tradeGypsum.mixing, order: ['powder'] },
      shellMm: null,
    });
    const plan = { ...PLAN, coats, material: plain('light', 1.2) };
    const [own, other] = compareSystems(plan, [plain('heavy', 1.8)], () => GROUND, planWork);
    expect(other.volumeMm3).toBeCloseTo(own.volumeMm3, 6);
    expect(other.massG / own.massG).toBeCloseTo(1.5, 12);
    expect(own.massG).toBeCloseTo(own.volumeMm3 * 0.0012, 6);
  });

  it('no cost as long as a part of the mix has no price, whatever shims cost', () => {
    const supplies = { ...PLAN.supplies, shim: { ...PLAN.supplies.shim, packPrice: 9 } };
    const ground = { ...GROUND, borders: [{ between: ['A', 'B'] as const, lengthMm: 900 }] };
    const withPrice = (id: string, price: number | null) => ({
      ...tradeGypsum,
      id,
      components: tradeGypsum.components.map((one) => ({ ...one, packs: [{ massG: 1000, price }] })),
      reinforcement: null,
    });
    const plan = { ...PLAN, supplies, material: withPrice('own', null) };
    const [own, other] = compareSystems(plan, [withPrice('other', 2)], () => ground, planWork);
    expect(own.cost).toBeNull();
    expect(own.unpriced).toEqual(['powder', 'liquid', 'release agent']);
    expect(other.cost).toBeGreaterThan(9);
    expect(other.unpriced).toEqual(['release agent']);
  });

  it('as if begun anew: neither stock nor log change a row', () => {
    const batch = { piece: 'A', coat: 0, number: 1, mixedG: 500, leftG: null, layMin: null, at: '' };
    const begun = {
      ...PLAN,
      stock: [{ item: 'powder', massG: 1e6 }],
      log: { ...PLAN.log, batches: [batch] },
    };
    expect(compareSystems(begun, BUILT_IN_MATERIALS, () => GROUND, planWork)).toEqual(rows);
  });

  it('additives stay where the system knows them, at a dose that it allows; a row that cannot be worked says so', () => {
    const seen: PlanDocument[] = [];
    const watch = (plan: PlanDocument, ground: typeof GROUND) => {
      seen.push(plan);
      return planWork(plan, ground);
    };
    const [thickener] = tradeGypsum.additives;
    const candidate = {
      ...tradeGypsum,
      id: 'other',
      additives: [{ ...thickener, leastShare: 0.001, typicalShare: 0.004, mostShare: 0.01 }],
      times: { ...tradeGypsum.times, workingMin: 4 },
    };
    const trade = tradePlan(PLAN);
    const withWait = { ...trade, coats: trade.coats.map((coat) => ({ ...coat, waitMin: 77 })) };
    const [, other] = compareSystems(withWait, [candidate], () => GROUND, watch);
    expect(seen[1].coats.map((coat) => coat.additives)).toEqual([
      [{ name: 'thickener', doseShare: 0.004 }],
      [{ name: 'thickener', doseShare: 0.004 }],
      [],
      [{ name: 'thickener', doseShare: 0.004 }],
    ]);
    expect(seen[1].coats.every((coat) => coat.waitMin === null)).toBe(true);
    expect(other.batches).toBe(0);
    expect(other.notes.some((note) => note.code === 'no-time-to-lay')).toBe(true);
  });
});
