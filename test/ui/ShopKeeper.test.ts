import { describe, expect, it } from 'vitest';
import { DEFAULT_MATERIAL } from '../../src/core/material/builtInMaterials.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { logBatch } from '../../src/session/logActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { takeOffer } from '../../src/session/shopOffers.ts';
import { ShopKeeper } from '../../src/ui/control/ShopKeeper.ts';
import { sayOutliers } from '../../src/ui/control/sayOutliers.ts';
import { fakeAnswer, fakePlan } from '../session/fakeAnswer.ts';
import { memoryShopVault } from '../session/memoryShopVault.ts';

const NOON = () => new Date('2026-12-24T12:00:00Z');

function openKeeper(fail: () => Error | null = () => null, plan: PlanDocument = fakePlan()) {
  const store = new SessionStore(plan);
  const kept = memoryShopVault(fail);
  const keeper = new ShopKeeper(store, kept.vault, () => {}, NOON);
  const answer = () => store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
  return { store, keeper, ...kept, answer };
}

/** Ticks one batch for each rest that was weighed, g. */
function logRests(store: SessionStore, restsG: readonly number[]): void {
  restsG.forEach((leftG, i) => {
    const at = '2026-12-03T08:00:00Z';
    store.edit(logBatch({ piece: 'A', coat: 0, number: i + 1, mixedG: 1000, leftG, layMin: null, at }));
  });
}

describe('ShopKeeper', () => {
  it('offers what the open job’s log says, once it is answered for, and is silent when it was taken', async () => {
    const { store, keeper, answer } = openKeeper();
    await keeper.start();
    logRests(store, [300, 310, 320]);
    expect(keeper.state.log).toBeNull();
    expect(keeper.state.hasLog).toBe(true);
    expect(openKeeper().keeper.state.hasLog).toBe(false);
    expect(keeper.state.offers).toEqual([]);
    answer();
    const [offer, ...more] = keeper.state.offers;
    expect(more).toEqual([]);
    expect(offer).toMatchObject({ kind: 'waste', value: 310, batches: 3 });
    store.edit(takeOffer(offer));
    expect(keeper.state.offers).toEqual([]);
  });

  it('remembers a job once, and offers it to the next one', async () => {
    const first = openKeeper();
    await first.keeper.start();
    logRests(first.store, [300, 310, 320, 900]);
    expect(first.keeper.state.canRemember).toBe(false);
    first.answer();
    expect(first.keeper.state.canRemember).toBe(true);
    expect(await first.keeper.rememberJob()).toBe(true);
    expect(first.keeper.state.canRemember).toBe(false);
    // The same batches are not counted twice, as the open job's and as a remembered one's.
    expect(first.keeper.state.offers).toMatchObject([{ kind: 'waste', value: 315, batches: 4 }]);

    const next = new ShopKeeper(new SessionStore(fakePlan()), first.vault, () => {}, NOON);
    await next.start();
    expect(next.state.offers).toMatchObject([{ kind: 'waste', value: 315, batches: 4, jobs: ['bust'] }]);
    expect(await next.forgetJob('2026-12-03 bust')).toBe(true);
    expect(next.state.offers).toEqual([]);
  });

  it('names the batch that stands out', async () => {
    const { store, keeper, answer } = openKeeper();
    logRests(store, [80, 85, 90, 84, 900]);
    answer();
    expect(keeper.state.log && sayOutliers(keeper.state.log, 'metric')).toEqual([
      'Batch 5 of coat 1, piece A, left 900 g, unlike the others.',
    ]);
  });

  it('says what the browser did not keep, and does not show it', async () => {
    const { store, keeper } = openKeeper(() => new DOMException('full', 'QuotaExceededError'));
    expect(await keeper.keepMaterial({ ...DEFAULT_MATERIAL, id: 'own', name: 'Our gypsum' })).toBe(false);
    expect(keeper.state.materials).toEqual([]);
    expect(store.state.notices.at(-1)?.text).toBe(
      'Our gypsum was not kept. The browser’s store is full. Save it to a file instead.',
    );
  });

  it('keeps and drops a system, and the plan that uses it stays as it is', async () => {
    const { store, keeper, shelves } = openKeeper();
    const before = store.state.plan;
    expect(await keeper.keepMaterial({ ...DEFAULT_MATERIAL, id: 'own', name: 'Our gypsum' })).toBe(true);
    expect(keeper.state.materials.map(({ name }) => name)).toEqual(['Our gypsum']);
    expect([...shelves.materials.keys()]).toEqual(['own']);
    expect(await keeper.dropMaterial('own')).toBe(true);
    expect(keeper.state.materials).toEqual([]);
    expect(store.state.plan).toBe(before);
  });

  it('says what could not be read, and gives it back as a file', async () => {
    const { store, keeper, shelves } = openKeeper();
    shelves.materials.set('old', { odd: true });
    await keeper.start();
    expect(keeper.state.asideCount).toBe(1);
    expect(store.state.notices.at(-1)?.text).toContain('“old” could not be read and was put aside');
    expect(JSON.parse(keeper.asideFile().text)).toMatchObject([{ key: 'old', value: { odd: true } }]);
  });

  it('without any store says so at the first try', async () => {
    const store = new SessionStore(fakePlan());
    const keeper = new ShopKeeper(store, undefined, () => {}, NOON);
    await keeper.start();
    expect(store.state.notices).toEqual([]);
    expect(await keeper.keepMaterial(DEFAULT_MATERIAL)).toBe(false);
    expect(store.state.notices.at(-1)?.text).toContain('does not let the page keep things');
  });
});
