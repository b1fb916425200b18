import { describe, expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { couplingMultiplier } from '../../src/core/work/lifting/couplingMultiplier.ts';
import { frequencyMultiplier } from '../../src/core/work/lifting/frequencyMultiplier.ts';
import { liftPieces } from '../../src/core/work/lifting/liftPieces.ts';
import { onePersonLimit } from '../../src/core/work/lifting/onePersonLimit.ts';
import {
  type LiftingConstants,
  METRIC_LIFTING,
  weightLimit,
} from '../../src/core/work/lifting/weightLimit.ts';

/**
 * NIOSH 94-110 (Waters, Putz-Anderson & Garg, rev. 9/2021). The manual's examples are in pounds and inches, whose constants are
 * no exact conversions of the metric ones: they are checked with their own. Its multipliers are rounded to two places.
 */
const US_LIFTING: LiftingConstants = {
  load: 51,
  horizontal: 10,
  verticalSlope: 0.0075,
  verticalIdeal: 30,
  distance: 1.8,
  mostHorizontal: 25,
  mostVertical: 70,
  leastDistance: 10,
  mostDistance: 70,
};

describe('the equation', () => {
  it('W23: example 4, origin: 34.81 lb; 34.9 in the manual, which rounds its multipliers', () => {
    const limit = weightLimit(
      {
        horizontal: 10,
        vertical: 38,
        distance: 37,
        asymmetryDeg: 0,
        frequencyMultiplier: 0.88,
        couplingMultiplier: 0.95,
      },
      US_LIFTING,
    );
    expect(limit).toBeCloseTo(34.81, 2);
    expect(Math.abs(limit - 34.9)).toBeLessThan(0.5);
  });

  it('W24: example 1, 44 lb: 16.02 and 14.15 lb, index 2.75 and 3.11; 16.3, 14.5, 2.7 and 3.0 in the manual (from memory)', () => {
    const at = (vertical: number, couplingMultiplier: number): number =>
      weightLimit(
        {
          horizontal: 23,
          vertical,
          distance: 49,
          asymmetryDeg: 0,
          frequencyMultiplier: 1,
          couplingMultiplier,
        },
        US_LIFTING,
      );
    const origin = at(15, 0.95);
    const end = at(64, 1);
    expect(origin).toBeCloseTo(16.02, 2);
    expect(end).toBeCloseTo(14.15, 2);
    expect(44 / origin).toBeCloseTo(2.75, 2);
    expect(44 / end).toBeCloseTo(3.11, 2);
    expect(Math.abs(origin - 16.3)).toBeLessThan(0.5);
    expect(Math.abs(end - 14.5)).toBeLessThan(0.5);
  });

  it('W25: metric, H 60 V 20 D 60 A 30, grip 0.9: 5.83 kg', () => {
    const limit = weightLimit(
      {
        horizontal: 60,
        vertical: 20,
        distance: 60,
        asymmetryDeg: 30,
        frequencyMultiplier: 1,
        couplingMultiplier: 0.9,
      },
      METRIC_LIFTING,
    );
    expect(limit).toBeCloseTo(5.83, 2);
  });

  it('gives 23 kg under ideal conditions, and no more for hands closer or a shorter way', () => {
    const ideal = {
      horizontal: 25,
      vertical: 75,
      distance: 25,
      asymmetryDeg: 0,
      frequencyMultiplier: 1,
      couplingMultiplier: 1,
    };
    expect(weightLimit(ideal, METRIC_LIFTING)).toBeCloseTo(23, 12);
    expect(weightLimit({ ...ideal, horizontal: 10, distance: 0 }, METRIC_LIFTING)).toBeCloseTo(23, 12);
  });

  it('ends beyond its reach: hands too far, too high, way too long, body turned too far', () => {
    const lift = {
      horizontal: 40,
      vertical: 75,
      distance: 50,
      asymmetryDeg: 0,
      frequencyMultiplier: 1,
      couplingMultiplier: 1,
    };
    expect(weightLimit(lift, METRIC_LIFTING)).toBeGreaterThan(0);
    for (const beyond of [{ horizontal: 64 }, { vertical: 176 }, { distance: 176 }, { asymmetryDeg: 136 }]) {
      expect(weightLimit({ ...lift, ...beyond }, METRIC_LIFTING)).toBe(0);
    }
  });
});

describe('multipliers', () => {
  it('frequency: 1.00 up to 0.2 a minute, the table’s rows, straight lines between them, nothing beyond 15', () => {
    expect(frequencyMultiplier(0, 50)).toBe(1);
    expect(frequencyMultiplier(0.2, 50)).toBe(1);
    // Example 4 of the manual: three a minute, 0.88.
    expect(frequencyMultiplier(3, 50)).toBe(0.88);
    expect(frequencyMultiplier(3.5, 50)).toBeCloseTo(0.86, 12);
    expect(frequencyMultiplier(13, 50)).toBe(0);
    expect(frequencyMultiplier(13, 80)).toBe(0.34);
    expect(frequencyMultiplier(15.1, 80)).toBe(0);
  });

  it('grip: 0.95 for a fair one below 75 cm and 1.0 above, as in example 1; 0.90 for a poor one', () => {
    expect(couplingMultiplier('fair', 38)).toBe(0.95);
    expect(couplingMultiplier('fair', 162)).toBe(1);
    expect(couplingMultiplier('poor', 100)).toBe(0.9);
    expect(couplingMultiplier('good', 0)).toBe(1);
  });
});

describe('the lifts of a mould', () => {
  const plan = newPlan('a.stl');
  const lifting = {
    horizontalMm: 400,
    fromMm: 750,
    toMm: 750,
    asymmetryDeg: 0,
    grip: 'good',
    liftsPerMin: 0.1,
  } as const;
  // 23 x 25/40 = 14.375 kg.
  const LIMIT_KG = 14.375;
  const piece = (id: string, dryG: number, depthMm = 300, rubberShareG = 0) => ({
    id,
    name: `Piece ${id}`,
    wetG: dryG * 1.25,
    dryG,
    wetCentreMm: [1, 2, 3] as const,
    dryCentreMm: [4, 5, 6] as const,
    boxMm: { min: [0, 0, 0] as const, max: [900, depthMm, 500] as const },
    rubberShareG,
    rubberCentreMm: [7, 8, 9] as const,
  });

  it('takes the worse end of the lift, as the shell is set down with care', () => {
    const low = { ...lifting, fromMm: 200, toMm: 800 };
    const origin = weightLimit(
      {
        horizontal: 40,
        vertical: 20,
        distance: 60,
        asymmetryDeg: 0,
        frequencyMultiplier: 1,
        couplingMultiplier: 1,
      },
      METRIC_LIFTING,
    );
    expect(onePersonLimit(low, 300)).toBeCloseTo(origin, 12);
    expect(onePersonLimit({ ...low, fromMm: 800, toMm: 200 }, 300)).toBeCloseTo(origin, 12);
  });

  it('reach from the load’s depth: 20 + W/2 cm, with low hands 25 + W/2 (NIOSH 94-110, from memory)', () => {
    const auto = { ...lifting, horizontalMm: 'auto' as const };
    // W 30 cm: H 35 cm.
    expect(onePersonLimit(auto, 300)).toBeCloseTo((23 * 25) / 35, 12);
    // H 25 + 15 = 40 cm, V 20 cm.
    expect(onePersonLimit({ ...auto, fromMm: 200, toMm: 200 }, 300)).toBeCloseTo(
      23 * (25 / 40) * (1 - 0.003 * 55),
      12,
    );
  });

  it('one person up to the limit, two up to twice it, a hoist beyond', () => {
    const rows = (dryKg: number) =>
      liftPieces(
        { ...plan, lifting },
        {
          pieces: [piece('A', dryKg * 1000)],
          rubberG: 0,
          rubberCentreMm: null,
          castG: null,
          castCentreMm: null,
        },
      );
    const carry = (dryKg: number): string | undefined => rows(dryKg).find((r) => r.state === 'dry')?.carry;
    expect(carry(LIMIT_KG - 0.01)).toBe('one');
    expect(carry(LIMIT_KG + 0.01)).toBe('two');
    expect(carry(2 * LIMIT_KG - 0.01)).toBe('two');
    expect(carry(2 * LIMIT_KG + 0.01)).toBe('hoist');
    const dry = rows(20).find((r) => r.state === 'dry');
    expect(dry?.liftingIndex).toBeCloseTo(20 / LIMIT_KG, 12);
    expect(dry?.advice).toMatch(/Two do not share a load evenly/);
    expect(dry?.advice).toMatch(/does not cover carrying/);
    expect(rows(50).find((r) => r.state === 'dry')?.advice).toMatch(/Above an index of 3/);
    expect(rows(35).find((r) => r.state === 'dry')?.advice).not.toMatch(/Above an index of 3/);
  });

  it('knows no index out of reach, and asks for a hoist', () => {
    const auto = { ...lifting, horizontalMm: 'auto' as const };
    // 20 + 90/2 = 65 cm is beyond 63.
    const [row] = liftPieces(
      { ...plan, lifting: auto },
      { pieces: [piece('A', 500, 900)], rubberG: 0, rubberCentreMm: null, castG: null, castCentreMm: null },
    );
    expect(row.limitKg).toBe(0);
    expect(row.liftingIndex).toBeNull();
    expect(row.carry).toBe('hoist');
  });

  it('rows: each piece wet, dry and with its rubber, the mould with all its rubber, with the cast', () => {
    const rows = liftPieces(
      { ...plan, lifting },
      {
        pieces: [piece('A', 4000, 300, 1000), piece('B', 6000, 300, 2000)],
        rubberG: 3500,
        rubberCentreMm: [0, 0, 10],
        castG: 20_000,
        castCentreMm: [0, 0, 100],
      },
    );
    expect(rows.map((row) => [row.piece, row.state, row.massKg])).toEqual([
      ['A', 'wet', 5],
      ['A', 'dry', 4],
      ['A', 'with-rubber', 5],
      ['B', 'wet', 7.5],
      ['B', 'dry', 6],
      ['B', 'with-rubber', 8],
      [null, 'with-rubber', 13.5],
      [null, 'with-cast', 33.5],
    ]);
    expect(rows[0].centreOfMassMm).toEqual([1, 2, 3]);
    expect(rows[1].centreOfMassMm).toEqual([4, 5, 6]);
    // 4 kg at x = 4 and 1 kg at x = 7.
    expect(rows[2].centreOfMassMm?.[0]).toBeCloseTo(23 / 5, 12);
    // Heights: 10 kg of shell at 6, 3.5 kg of rubber at 10, 20 kg of cast at 100.
    expect(rows[6].centreOfMassMm?.[2]).toBeCloseTo(95 / 13.5, 12);
    expect(rows[7].centreOfMassMm?.[2]).toBeCloseTo(2095 / 33.5, 12);
    expect(new Set(rows.map((row) => row.what)).size).toBe(rows.length);
    expect(
      liftPieces(
        { ...plan, lifting },
        { pieces: [piece('A', 4000)], rubberG: 1, rubberCentreMm: null, castG: null, castCentreMm: null },
      ).some((row) => row.state === 'with-cast'),
    ).toBe(false);
    // A rubber whose place is not known leaves the mould's middle open.
    const open = liftPieces(
      { ...plan, lifting },
      { pieces: [piece('A', 4000)], rubberG: 1, rubberCentreMm: null, castG: null, castCentreMm: null },
    );
    expect(open.find((row) => row.piece === null)?.centreOfMassMm).toBeNull();
  });
});
