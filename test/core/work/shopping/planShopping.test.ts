import { describe, expect, it } from 'vitest';
import type { MaterialSystem } from '../../../../src/core/material/MaterialSystem.ts';
import type { CoatWork, ShoppingItem } from '../../../../src/core/PlanResult.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { planBatches } from '../../../../src/core/work/batches/planBatches.ts';
import { countStrips } from '../../../../src/core/work/shopping/countStrips.ts';
import { planCost } from '../../../../src/core/work/shopping/planCost.ts';
import { planShopping } from '../../../../src/core/work/shopping/planShopping.ts';
import type { WorkGround } from '../../../../src/core/work/WorkGround.ts';
import { tradeGypsum, tradePlan } from '../../../fixtures/tradeGypsum.ts';
import { boxGround } from '../log/boxGround.ts';
import { madeUpCoat } from '../madeUpCoat.ts';

const BARE: WorkGround = boxGround([]);
const TRADE = tradePlan(newPlan('box.stl'));
/** Scales as fine as none is, so that sums are those of the recipe. */
const FINE: PlanDocument = {
  ...TRADE,
  bench: { ...TRADE.bench, scales: [{ name: 'fine', mostG: 5000, stepG: 1e-4 }] },
};

function shop(plan: PlanDocument, work: readonly CoatWork[], ground = BARE) {
  const { batches } = planBatches(plan, work);
  const { items, notes } = planShopping(plan, ground, work, batches);
  return { items, notes, batches, cost: planCost(plan, items, work, batches) };
}

function find(items: readonly ShoppingItem[], name: string): ShoppingItem {
  const found = items.filter((item) => item.item === name);
  expect(found, `${name} among ${items.map((item) => item.item).join(', ')}`).toHaveLength(1);
  return found[0];
}

/** The trade's system with packs and prices, made up. */
function priced(changes: Partial<MaterialSystem> = {}): MaterialSystem {
  const [powder, liquid] = tradeGypsum.components;
  const [thickener, accelerator] = tradeGypsum.additives;
  return {
    ...tradeGypsum,
    components: [
      {
        ...powder,
        packs: [
          { massG: 10_000, price: 30 },
          { massG: 2000, price: 8 },
        ],
      },
      { ...liquid, packs: [{ massG: 5000, price: 50 }] },
    ],
    additives: [
      { ...thickener, packs: [{ massG: 100, price: 5 }] },
      { ...accelerator, packs: [{ massG: 40, price: 4 }] },
    ],
    ...changes,
  };
}

describe('what the mixes take', () => {
  it('sums the batches of all pieces, losses in', () => {
    const work = [madeUpCoat(FINE, 0, 6040, 100_000), madeUpCoat(FINE, 1, 3020, 50_000, 'B')];
    const { items } = shop(FINE, work);
    // 604 of 604 parts; 9060 g on the wall, 8 % more mixed: 9784.8 g.
    expect(find(items, 'powder').neededG).toBeCloseTo((9784.8 * 400) / 604, 2);
    expect(find(items, 'liquid').neededG).toBeCloseTo((9784.8 * 200) / 604, 2);
    expect(find(items, 'thickener').neededG).toBeCloseTo((9784.8 * 4) / 604, 2);
    expect(items.some((item) => item.item === 'chopped glass')).toBe(false);
  });

  it('of a solution the dry matter is bought', () => {
    // 2000 powder, 1000 liquid, 50 of solution (5 %), 6 % of fibre; laid 3233 / 1.08.
    const { items } = shop(FINE, [madeUpCoat(FINE, 2, 3233 / 1.08, 40_000)]);
    const accelerator = find(items, 'accelerator');
    expect(accelerator.neededG).toBeCloseTo((50 * 40) / 520, 3);
    expect(accelerator.say).toBe('dry, to be made up: 40 g in 480 g of water makes 520 g');
    expect(find(items, 'chopped glass')).toMatchObject({ kind: 'reinforcement', say: 'chopped to 19.0 mm' });
    expect(find(items, 'chopped glass').neededG).toBeCloseTo(183, 2);
  });

  it('a logged batch counts at its true weight', () => {
    const logged = { piece: 'A', coat: 0, number: 1, mixedG: 755, leftG: null, layMin: null, at: '' };
    const plan = { ...FINE, log: { ...FINE.log, batches: [logged] } };
    const work = { ...madeUpCoat(plan, 0, 6040, 100_000), laidG: 755 / 1.08, toLayG: 6040 - 755 / 1.08 };
    const { items } = shop(plan, [work]);
    expect(find(items, 'powder').neededG).toBeCloseTo((6040 * 1.08 * 400) / 604, 2);
  });

  it('a coat that was closed without a logged weight counts as planned', () => {
    const closed = { ...madeUpCoat(FINE, 0, 604, 10_000), toLayG: 0, isDone: true };
    const { items, batches } = shop(FINE, [closed]);
    expect(batches).toEqual([]);
    expect(find(items, 'powder').neededG).toBeCloseTo(400 * 1.08, 5);
  });

  it('a coat of which no batch can be made is bought for all the same', () => {
    const plan = { ...FINE, bench: { ...FINE.bench, marginMin: 29 } };
    const { items, batches } = shop(plan, [madeUpCoat(plan, 0, 604, 10_000)]);
    expect(batches).toEqual([]);
    expect(find(items, 'powder').neededG).toBeCloseTo(400 * 1.08, 6);
  });

  it('water from the tap is neither bought nor without a price', () => {
    const [powder, liquid] = tradeGypsum.components;
    const material = {
      ...tradeGypsum,
      components: [powder, { ...liquid, name: 'water', waterShare: 1 }],
      additives: [],
    };
    const plan = { ...FINE, material, coats: [{ ...FINE.coats[0], additives: [] }] };
    const { items, cost } = shop(plan, [madeUpCoat(plan, 0, 600, 10_000)]);
    expect(find(items, 'water')).toMatchObject({ cost: 0, packs: null, say: 'from the tap' });
    expect(cost.unpriced).toEqual(['powder']);
    expect(cost.total).toBeNull();
  });

  it('components of one name in two systems are kept apart, in stock too', () => {
    const other = { ...tradeGypsum, id: 'other', name: 'Other gypsum' };
    const plan = {
      ...FINE,
      otherMaterials: [other],
      coats: FINE.coats.map((coat, n) => (n === 3 ? { ...coat, systemId: 'other' } : coat)),
      stock: [
        { item: 'powder', massG: 100 },
        { item: 'powder (Other gypsum)', massG: 70 },
      ],
    };
    const { items } = shop(plan, [madeUpCoat(plan, 0, 604, 10_000), madeUpCoat(plan, 3, 1208, 10_000)]);
    const own = find(items, 'powder (Gypsum by the trade’s check values)');
    const others = find(items, 'powder (Other gypsum)');
    expect([own.inStockG, others.inStockG]).toEqual([100, 70]);
    expect((others.neededG ?? 0) / (own.neededG ?? 0)).toBeCloseTo(2, 6);
  });

  it('rubber to be brushed on a bare pattern and filler, with losses; rubber that was scanned is not bought again', () => {
    const ground = { ...BARE, rubberG: 3000, fillerG: 200 };
    const pattern = { ...FINE, scan: { ...FINE.scan, is: 'pattern' as const } };
    const ofKind = (plan: PlanDocument, kind: ShoppingItem['kind']): number =>
      shop(plan, [], ground)
        .items.filter((item) => item.kind === kind)
        .reduce((sum, item) => sum + (item.neededG ?? 0), 0);
    const { rubber, filler } = FINE;
    expect(rubber.lossPerBatchG + filler.lossPerBatchG).toBe(0);
    expect(ofKind(pattern, 'rubber')).toBeCloseTo(3000 * (1 + rubber.lossShare), 6);
    expect(ofKind(pattern, 'filler')).toBeCloseTo(200 * (1 + filler.lossShare), 6);
    expect(ofKind(FINE, 'rubber')).toBe(0);
    expect(ofKind(FINE, 'filler')).toBeGreaterThan(0);
  });
});

describe('packs, stock and cost', () => {
  const plan: PlanDocument = { ...FINE, material: priced() };
  // 12.08 kg laid: 13.0464 kg mixed, 8.64 kg of powder, 4.32 of liquid, 86.4 g of thickener.
  const work = [madeUpCoat(plan, 0, 12_080, 200_000)];

  it('buys the cheapest packs and says what is left over', () => {
    const { items, cost } = shop(plan, work);
    expect(find(items, 'powder')).toMatchObject({ packG: 10_000, packs: 1, cost: 30, inStockG: 0 });
    expect(find(items, 'powder').leftG).toBeCloseTo(10_000 - 8640, 1);
    expect(find(items, 'liquid')).toMatchObject({ packG: 5000, packs: 1, cost: 50 });
    expect(find(items, 'thickener')).toMatchObject({ packG: 100, packs: 1, cost: 5 });
    expect(cost).toMatchObject({
      total: 85,
      byItem: { powder: 30, liquid: 50, thickener: 5 },
      unpriced: [],
    });
    // Used, by the cheapest gram: 8640 g x 30 / 10000 + 4320 x 50 / 5000 + 86.4 x 5 / 100.
    expect(cost.byPiece['A']).toBeCloseTo(25.92 + 43.2 + 4.32, 2);
    expect(cost.byCoat['Face']).toBeCloseTo(25.92 + 43.2 + 4.32, 2);
  });

  it('takes from stock first; several sizes of pack together stand in one line', () => {
    const stocked = { ...plan, stock: [{ item: 'liquid', massG: 10_000 }] };
    const more = [madeUpCoat(stocked, 0, 16_000, 200_000)];
    const { items, cost } = shop(stocked, more);
    // 16 kg laid: 11.444 kg of powder, one pack of 10 kg and one of 2 kg; 5.722 kg of liquid out of 10.
    const powder = find(items, 'powder');
    expect(powder).toMatchObject({
      packG: 10_000,
      packs: 1,
      morePacks: [{ packG: 2000, packs: 1 }],
      cost: 38,
      say: 'and 1 of 2.00 kg',
    });
    expect(powder.leftG).toBeCloseTo(12_000 - (16_000 * 1.08 * 400) / 604, 1);
    expect(find(items, 'liquid')).toMatchObject({ packs: 0, cost: 0, inStockG: 10_000 });
    expect(find(items, 'liquid').leftG).toBeCloseTo(10_000 - (16_000 * 1.08 * 200) / 604, 1);
    expect(cost.byItem).not.toHaveProperty('liquid');
  });

  it('nothing has a price: no total; the items are named', () => {
    const { items, cost } = shop(FINE, work);
    expect(cost).toMatchObject({ total: null, byItem: {}, byPiece: {}, byCoat: {} });
    expect(cost.unpriced).toEqual(['powder', 'liquid', 'thickener']);
    expect(find(items, 'powder')).toMatchObject({ packG: null, packs: null, leftG: null, cost: null });
  });

  it('the cost of a dry matter is shared out by what of it goes into the mix', () => {
    const accelerated = [madeUpCoat(plan, 2, 3233 / 1.08, 40_000)];
    const { cost } = shop(plan, accelerated);
    const expected = (2000 * 30) / 10_000 + (1000 * 50) / 5000 + (((50 * 40) / 520) * 4) / 40;
    expect(cost.byCoat['Reinforced']).toBeCloseTo(expected, 3);
  });

  it('uses by coat and by piece sum to the same; two coats of one name are told apart', () => {
    const twice = { ...plan, coats: plan.coats.map((coat) => ({ ...coat, name: 'Coat' })) };
    const many = [
      madeUpCoat(twice, 0, 2000, 50_000),
      madeUpCoat(twice, 2, 3000, 50_000),
      madeUpCoat(twice, 0, 1000, 50_000, 'B'),
    ];
    const { cost } = shop(twice, many);
    const sum = (of: Readonly<Record<string, number>>): number =>
      Object.values(of).reduce((total, one) => total + one, 0);
    expect(Object.keys(cost.byCoat)).toEqual(['1 Coat', '3 Coat']);
    expect(Object.keys(cost.byPiece)).toEqual(['A', 'B']);
    expect(sum(cost.byCoat)).toBeCloseTo(sum(cost.byPiece), 9);
  });
});

describe('running short', () => {
  // 4320 g of powder each coat and piece.
  const coats = (plan: PlanDocument): CoatWork[] =>
    ['A', 'B'].flatMap((piece) => [0, 1, 3].map((coat) => madeUpCoat(plan, coat, 6040, 100_000, piece)));
  const notesOf = (stock: PlanDocument['stock']) => {
    const plan = { ...FINE, stock };
    return shop(plan, coats(plan)).notes;
  };

  it('names the coat at which the stock ends, and what is missing in all', () => {
    const notes = notesOf([{ item: 'powder', massG: 4320 * 4.5 }]);
    expect(notes).toEqual([
      {
        code: 'short-of-stock',
        piece: 'B',
        coat: 1,
        text: 'You will run short of powder at coat 2 (Build) of Piece B: 19.44 kg in stock, 6.48 kg more is needed for the whole shell.',
        usText:
          'You will run short of powder at coat 2 (Build) of Piece B: 42.9 lb in stock, 14 lb 4.6 oz more is needed for the whole shell.',
      },
    ]);
  });

  it('short at the very first coat, and enough to the gram', () => {
    expect(notesOf([{ item: 'powder', massG: 100 }])[0]).toMatchObject({ piece: 'A', coat: 0 });
    expect(notesOf([{ item: 'powder', massG: 4320 * 6 + 0.01 }])).toEqual([]);
  });

  it('several lines of one item add up; what the list does not name has no note', () => {
    const half = { item: 'powder', massG: 4320 * 3 + 0.01 };
    expect(notesOf([half, half])).toEqual([]);
    expect(notesOf([])).toEqual([]);
    expect(notesOf([{ item: 'something else', massG: 1 }])).toEqual([]);
  });
});

describe('shims, release, fasteners', () => {
  const ground: WorkGround = {
    ...BARE,
    borders: [
      { between: ['A', 'B'], lengthMm: 1000 },
      { between: ['A', 'B'], lengthMm: 290 },
    ],
    flangeWidthMm: 40,
    flangeThicknessMm: 12,
    fasteners: 11,
  };

  it('strips reach n (strip - overlap) + overlap', () => {
    expect(countStrips(300, 300, 10)).toBe(1);
    expect(countStrips(301, 300, 10)).toBe(2);
    expect(countStrips(590, 300, 10)).toBe(2);
    expect(countStrips(591, 300, 10)).toBe(3);
    expect(countStrips(0, 300, 10)).toBe(0);
    expect(countStrips(100, 300, 300)).toBeNull();
  });

  it('shims by the line, W29: aluminium of 0.010 in is 686 g/m2', () => {
    const shim = { ...FINE.supplies.shim, thicknessMm: 0.254, stripsPerPack: 4, packPrice: 6 };
    const plan = { ...FINE, supplies: { ...FINE.supplies, shim } };
    const { items } = shop(plan, [], ground);
    // 1000 mm takes 4 strips of 300 mm that overlap by 10, 290 mm takes one.
    expect(find(items, shim.name)).toMatchObject({
      kind: 'shims',
      neededG: null,
      neededCount: 5,
      packG: 4,
      packs: 2,
      leftG: 3,
      cost: 12,
    });
    expect(find(items, shim.name).say).toContain('686\u00a0g/m²');
    expect(find(items, shim.name).say).toContain('1.29 m of line');
    expect(find(items, shim.name).say).toContain('3.4 a metre');
    // 686 g/m2 over 305.15 g/m2 for an ounce a square foot (NIST HB 44: 28.349523125 g, 0.09290304 m2).
    expect(find(items, shim.name).usSay).toContain('2.25\u00a0oz/ft²');
    expect(find(items, shim.name).usSay).toContain('1.05 a foot');
  });

  it('a strip that is too narrow for the flange is told, one that overlaps itself too', () => {
    const narrow = { ...FINE.supplies.shim, stripWidthMm: 39 };
    const codes = (shim: PlanDocument['supplies']['shim']): string[] =>
      shop({ ...FINE, supplies: { ...FINE.supplies, shim } }, [], ground).notes.map((note) => note.code);
    expect(codes(narrow)).toEqual(['shim-too-narrow']);
    expect(codes({ ...narrow, stripWidthMm: 40 })).toEqual([]);
    expect(codes({ ...narrow, stripWidthMm: 40, overlapMm: 300 })).toEqual(['shim-overlap']);
  });

  it('release for shims and edges, and the board’s margin where the foot is known', () => {
    const release = { name: 'wax', coverageM2PerKg: 10, coats: 2, packs: [{ massG: 10, price: 3 }] };
    const plan = { ...FINE, supplies: { ...FINE.supplies, release } };
    // 2 x 1290 x 40 mm2 = 0.1032 m2, twice, at 10 m2 a kilogram.
    const wax = find(shop(plan, [], ground).items, 'wax');
    expect(wax.neededG).toBeCloseTo(20.64, 9);
    expect(wax).toMatchObject({ kind: 'release', packG: 10, packs: 3, cost: 9 });
    expect(wax.say).toContain('board');
    // Foot: circle of 200 mm across; band of 90 mm around it: pi (190^2 - 100^2).
    const footed = { ...ground, footMm: Math.PI * 200 };
    const bandM2 = (Math.PI * (190 ** 2 - 100 ** 2)) / 1e6;
    const more = find(shop(plan, [], footed).items, 'wax').neededG ?? 0;
    expect(more - 20.64).toBeCloseTo((bandM2 * 2 * 1000) / 10, 5);
  });

  it('fasteners by the pack; none where the load is not worked out', () => {
    const { items } = shop(FINE, [], ground);
    expect(find(items, FINE.supplies.fastener.name)).toMatchObject({
      kind: 'fasteners',
      neededCount: 11,
      packG: 10,
      packs: 2,
      leftG: 9,
      cost: null,
    });
    expect(
      shop(FINE, [], { ...ground, fasteners: null }).items.some((item) => item.kind === 'fasteners'),
    ).toBe(false);
  });
});
