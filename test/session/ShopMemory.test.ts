import { describe, expect, it } from 'vitest';
import { PlanError } from '../../src/core/errors.ts';
import { DEFAULT_MATERIAL } from '../../src/core/material/builtInMaterials.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { type FinishedJob, finishJob, hasLessons, keyOfJob, readJob } from '../../src/session/FinishedJob.ts';
import { ShopMemory } from '../../src/session/ShopMemory.ts';
import { listOffers, offerFor, takeOffer } from '../../src/session/shopOffers.ts';
import { fakePlan } from './fakeAnswer.ts';
import { memoryShopVault } from './memoryShopVault.ts';

const NOON = () => new Date('2026-12-24T12:00:00Z');
const OWN = { ...DEFAULT_MATERIAL, id: 'own-gypsum', name: 'Our gypsum', lossPerBatchG: 77 };

function job(change: Partial<FinishedJob> = {}): FinishedJob {
  return {
    schema: 'scute-shop/1',
    name: 'Fish',
    date: '2026-12-01',
    systemId: DEFAULT_MATERIAL.id,
    systemName: DEFAULT_MATERIAL.name,
    wastesG: [200, 210, 220],
    pacesCm2PerMin: { face: [60, 62, 64, 66] },
    lots: [],
    ...change,
  };
}

describe('the shop’s own systems', () => {
  it('are kept, come back by name, and are dropped', async () => {
    const { vault } = memoryShopVault();
    const memory = new ShopMemory(vault, NOON);
    await memory.keepMaterial({ ...OWN, id: 'z', name: 'Zinc' });
    await memory.keepMaterial(OWN);
    await memory.keepMaterial({ ...OWN, lossPerBatchG: 88 });
    const later = new ShopMemory(vault, NOON);
    expect(await later.load()).toEqual([]);
    expect(later.listMaterials().map(({ name, lossPerBatchG }) => [name, lossPerBatchG])).toEqual([
      ['Our gypsum', 88],
      ['Zinc', 77],
    ]);
    expect(later.listMaterials()).toEqual(memory.listMaterials());
    await later.dropMaterial('z');
    expect(later.listMaterials()).toHaveLength(1);
  });

  it('one that could not be read again is refused, and nothing is kept', async () => {
    const { vault, shelves } = memoryShopVault();
    const memory = new ShopMemory(vault, NOON);
    const error = await memory.keepMaterial({ ...OWN, airShare: -1 }).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(PlanError);
    expect((error as PlanError).code).toBe('bad-material');
    expect(shelves.materials.size).toBe(0);
    expect(memory.listMaterials()).toEqual([]);
  });

  it('what the store did not take is not shown as kept', async () => {
    const { vault } = memoryShopVault(() => new DOMException('full', 'QuotaExceededError'));
    const memory = new ShopMemory(vault, NOON);
    await expect(memory.keepMaterial(OWN)).rejects.toThrow('full');
    expect(memory.listMaterials()).toEqual([]);
    await expect(memory.rememberJob(job())).rejects.toThrow('full');
    expect(memory.listJobs()).toEqual([]);
  });

  it('what cannot be read is put aside as it was, with why and when, and said once', async () => {
    const { vault, shelves, aside } = memoryShopVault();
    const memory = new ShopMemory(vault, NOON);
    await memory.keepMaterial(OWN);
    const broken = { schema: 'scute-material/2', id: 'old', oddKey: [1, 2, 3] };
    shelves.materials.set('old', broken);
    shelves.shop.set('2026-11-01 Bust', { schema: 'scute-shop/9' });
    const said = await memory.load();
    expect(said).toHaveLength(2);
    expect(said[0]).toContain('“old” could not be read and was put aside, not thrown away');
    expect(said[1]).toContain('“2026-11-01 Bust”');
    expect(memory.listMaterials().map(({ id }) => id)).toEqual(['own-gypsum']);
    expect(aside.map(({ from, key, value, at }) => [from, key, value, at])).toEqual([
      ['materials', 'old', broken, '2026-12-24T12:00:00.000Z'],
      ['shop', '2026-11-01 Bust', { schema: 'scute-shop/9' }, '2026-12-24T12:00:00.000Z'],
    ]);
    expect(memory.listAside()).toEqual(aside);
    expect(await memory.load()).toEqual([]);
    expect(memory.listAside()).toHaveLength(2);
  });
});

describe('what finished jobs taught', () => {
  it('is kept by day and name: the same job once more takes the place of the first', async () => {
    const { vault } = memoryShopVault();
    const memory = new ShopMemory(vault, NOON);
    await memory.rememberJob(job());
    await memory.rememberJob(job({ wastesG: [1, 2, 3, 4] }));
    await memory.rememberJob(job({ name: 'Bust', date: '2026-12-05' }));
    const later = new ShopMemory(vault, NOON);
    await later.load();
    expect(later.listJobs().map(({ name }) => name)).toEqual(['Bust', 'Fish']);
    expect(later.listJobs()[1].wastesG).toEqual([1, 2, 3, 4]);
    await later.forgetJob(keyOfJob(job()));
    expect(later.listJobs().map(({ name }) => name)).toEqual(['Bust']);
  });

  it('holds measured lots; of one lot the newest job speaks', async () => {
    const lot = {
      lot: '4711',
      densityGPerCm3: 1.7,
      workingMin: null,
      partialCureMin: null,
      fullCureMin: null,
    };
    const memory = new ShopMemory(memoryShopVault().vault, NOON);
    await memory.rememberJob(job({ lots: [{ systemId: 'x', lot }] }));
    await memory.rememberJob(
      job({ date: '2026-12-03', lots: [{ systemId: 'x', lot: { ...lot, densityGPerCm3: 1.8 } }] }),
    );
    expect(memory.listLots('x')).toEqual([{ ...lot, densityGPerCm3: 1.8 }]);
    expect(memory.listLots('y')).toEqual([]);
  });

  it('is read back as it was written, and refused with the field that is wrong', () => {
    const lot = { lot: '1', densityGPerCm3: 1.7, workingMin: null, partialCureMin: 50, fullCureMin: null };
    const whole = job({ lots: [{ systemId: 'x', lot }] });
    expect(readJob(JSON.parse(JSON.stringify(whole)))).toEqual(whole);
    const wrong: [unknown, string][] = [
      [null, 'not a table'],
      [[], 'not a table'],
      [{ ...whole, schema: 'scute-shop/2' }, 'format'],
      [{ ...whole, name: 7 }, 'name'],
      [{ ...whole, date: 'yesterday' }, 'date'],
      [{ ...whole, systemId: null }, 'systemId'],
      [{ ...whole, wastesG: [1, '2'] }, 'wastesG'],
      [{ ...whole, wastesG: [-1] }, 'wastesG'],
      [{ ...whole, pacesCm2PerMin: { face: [0] } }, 'pacesCm2PerMin.face'],
      [{ ...whole, pacesCm2PerMin: [] }, 'pacesCm2PerMin'],
      [{ ...whole, lots: [{ systemId: 'x', lot: { ...lot, workingMin: -4 } }] }, 'lots'],
    ];
    for (const [stored, field] of wrong) expect(readJob(stored), JSON.stringify(stored)).toContain(field);
  });

  it('of a plan: its name, the day of its first batch, its values and measured lots', () => {
    const bare = { workingMin: null, partialCureMin: null, fullCureMin: null };
    const lots = [
      { lot: 'measured', densityGPerCm3: 1.7, ...bare },
      { lot: 'only named', densityGPerCm3: null, ...bare },
    ];
    const plan = fakePlan();
    const batch = { piece: 'A', coat: 0, number: 1, mixedG: 9, leftG: 1, layMin: null };
    const logged: PlanDocument = {
      ...plan,
      material: { ...plan.material, lots },
      log: {
        ...plan.log,
        batches: [
          { ...batch, at: '2026-12-03T08:00:00Z' },
          { ...batch, number: 2, at: '2026-12-02T17:00:00Z' },
        ],
      },
    };
    const values = [4, 5, 6];
    const lessons = {
      wastePerBatchG: { median: 5, count: 3, values, outliers: [] },
      paceCm2PerMin: { build: { median: 5, count: 3, values, outliers: [] } },
      workingNote: null,
    };
    const finished = finishJob(logged, lessons, '2026-12-24');
    expect(finished).toMatchObject({ name: plan.job.name, date: '2026-12-02', wastesG: values });
    expect(finished.pacesCm2PerMin).toEqual({ build: values });
    expect(finished.lots).toEqual([{ systemId: plan.material.id, lot: lots[0] }]);
    expect(readJob(finished)).toEqual(finished);
    const empty = finishJob(
      plan,
      { wastePerBatchG: null, paceCm2PerMin: {}, workingNote: null },
      '2026-12-24',
    );
    expect(empty.date).toBe('2026-12-24');
    expect(hasLessons(empty)).toBe(false);
    expect(hasLessons(finished)).toBe(true);
  });
});

describe('offers', () => {
  const plan = fakePlan();

  it('are medians over the jobs’ batches, newest first, with how many and from where', () => {
    const jobs = [job(), job({ name: 'Bust', date: '2026-12-05', wastesG: [230, 240], pacesCm2PerMin: {} })];
    const waste = offerFor(plan, jobs, 'waste');
    expect(waste).toEqual({
      kind: 'waste',
      systemId: DEFAULT_MATERIAL.id,
      value: 220,
      instead: plan.material.lossPerBatchG,
      batches: 5,
      jobs: ['Bust', 'Fish'],
    });
    expect(offerFor(plan, jobs, 'face')).toMatchObject({ value: 63, batches: 4, jobs: ['Fish'] });
    expect(listOffers(plan, jobs).map(({ kind }) => kind)).toEqual(['waste', 'face']);
  });

  it('need three batches, of this very system for the waste, and something new to say', () => {
    expect(offerFor(plan, [job({ wastesG: [200, 210] })], 'waste')).toBeNull();
    expect(offerFor(plan, [job({ systemId: 'other' })], 'waste')).toBeNull();
    expect(offerFor(plan, [job()], 'finish')).toBeNull();
    const same = plan.material.lossPerBatchG;
    expect(offerFor(plan, [job({ wastesG: [same, same, same * 1.02] })], 'waste')).toBeNull();
  });

  it('take the last thirty batches, those of the newest jobs', () => {
    const old = job({ date: '2020-01-01', name: 'Old', wastesG: new Array(40).fill(500) });
    const recent = job({ wastesG: new Array(20).fill(100) });
    const offer = offerFor(plan, [old, recent], 'waste');
    expect(offer).toMatchObject({ value: 100, batches: 30, jobs: ['Fish', 'Old'] });
  });

  it('once taken, stand in the plan as the user’s own, and are not made again', () => {
    let taken = plan;
    for (const offer of listOffers(plan, [job()])) taken = takeOffer(offer)(taken);
    expect(parsePlan(JSON.parse(JSON.stringify(taken)))).toEqual(taken);
    expect(taken.material.lossPerBatchG).toBe(210);
    expect(taken.material.basis.lossPerBatchG).toEqual({
      kind: 'yours',
      text: 'median of 3 of your own batches',
    });
    expect(taken.bench.paceCm2PerMin.face).toBe(63);
    expect(listOffers(taken, [job()])).toEqual([]);
  });

  it('a waste of another system is left unheard', () => {
    const offer = offerFor(plan, [job()], 'waste');
    const other = { ...plan, material: OWN };
    expect(offer && takeOffer(offer)(other)).toBe(other);
  });
});
