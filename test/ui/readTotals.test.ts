import { describe, expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { addCoat, setCoatThickness } from '../../src/session/coatActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { readTotals, type Total } from '../../src/ui/readTotals.ts';
import { fakeAnswer, fakeOpened } from '../session/fakeAnswer.ts';

const plan = newPlan('a.stl');

function openStore(): SessionStore {
  const store = new SessionStore(plan);
  store.openJob({ name: 'a.stl', bytes: new ArrayBuffer(8), opened: fakeOpened('a.stl') }, plan);
  return store;
}

function answer(store: SessionStore, change: (result: ReturnType<typeof fakeAnswer>) => unknown = () => {}) {
  const made = fakeAnswer(store.state.plan, store.state.revision);
  change(made);
  store.takeAnswer(made);
}

/** So many batches, so long a day, so dear; of batches and steps only what the totals read. */
const work = (batches: number, endMin: number, total: number) => (made: ReturnType<typeof fakeAnswer>) =>
  Object.assign(made.result, {
    batches: Array.from({ length: batches }, () => ({ loggedG: null })),
    schedule: [{ startMin: 0, endMin }],
    cost: { ...made.result.cost, total, currency: 'EUR' },
  });

const changesOf = (store: SessionStore) =>
  Object.fromEntries(readTotals(store.state).map(({ key, change }) => [key, change])) as Record<
    Total['key'],
    string
  >;

const NONE = {
  'shell-mass': '',
  'heaviest-mass': '',
  'deepest-lock': '',
  batches: '',
  day: '',
  cost: '',
};

describe('totals of the title block', () => {
  it('are dashes before the first answer, and nothing has changed at the first', () => {
    const store = openStore();
    expect(readTotals(store.state).map(({ value }) => value)).toEqual(Array(6).fill('\u2013'));
    answer(store);
    expect(changesOf(store)).toEqual(NONE);
  });

  it('mark what a thicker coat did, once the new answer stands, and not before', () => {
    const store = openStore();
    answer(store);
    store.edit(setCoatThickness(0, plan.coats[0].thicknessMm + 100));
    expect(changesOf(store)).toEqual(NONE);
    answer(store);
    // The fake weighs 1 g a millimetre, piece and coat: two pieces get 100 g each (own arithmetic).
    expect(changesOf(store)).toMatchObject({ 'shell-mass': '+200 g', 'heaviest-mass': '+100 g' });
  });

  it('mark every number that moved: batches, day and cost as well', () => {
    const store = openStore();
    answer(store, work(3, 200, 50));
    store.edit(addCoat());
    answer(store, work(5, 240, 45.5));
    expect(changesOf(store)).toMatchObject({ batches: '+2', day: '+40\u00a0min', cost: '\u22124.50' });
  });

  it('forget the marks at the next change, whatever that does', () => {
    const store = openStore();
    answer(store);
    store.edit(setCoatThickness(0, plan.coats[0].thicknessMm + 100));
    answer(store);
    store.edit((now) => ({ ...now, job: { ...now.job, shop: 'elsewhere' } }));
    answer(store);
    expect(changesOf(store)).toEqual(NONE);
  });

  it('take a mark back with the opposite sign at undo', () => {
    const store = openStore();
    answer(store);
    store.edit(setCoatThickness(0, plan.coats[0].thicknessMm + 100));
    answer(store);
    store.undo();
    answer(store);
    expect(changesOf(store)['shell-mass']).toBe('\u2212200 g');
  });
});
