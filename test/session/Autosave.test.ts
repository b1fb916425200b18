import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AUTOSAVE_DELAY_MS, Autosave } from '../../src/session/Autosave.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import type { SessionVault, StoredSession } from '../../src/session/SessionVault.ts';
import { fakeOpened, fakePlan } from './fakeAnswer.ts';

function openStore(): SessionStore {
  const store = new SessionStore(fakePlan());
  store.openJob({ name: 'bust.stl', bytes: new ArrayBuffer(8), opened: fakeOpened('bust.stl') }, fakePlan());
  return store;
}

function memoryVault(fail: () => Error | null = () => null) {
  const writes: Partial<StoredSession>[] = [];
  const vault: SessionVault = {
    load: () => Promise.resolve({ scan: null, plan: null, prefs: null }),
    save: (part) => {
      const error = fail();
      if (error) return Promise.reject(error);
      writes.push(part);
      return Promise.resolve();
    },
  };
  return { vault, writes };
}

describe('Autosave', () => {
  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());

  it('keeps a drag with one write, in less than a second, without writing the scan again', async () => {
    const store = openStore();
    const { vault, writes } = memoryVault();
    const autosave = new Autosave(store, vault);
    expect(AUTOSAVE_DELAY_MS).toBeLessThan(1000);
    for (const mm of [3, 4, 5]) store.edit(setCoatThickness(0, mm), 'drag');
    await vi.advanceTimersByTimeAsync(AUTOSAVE_DELAY_MS);
    expect(writes).toEqual([{ plan: store.state.plan }]);
    autosave.dispose();
  });

  it('keeps a new scan with its plan in one write', async () => {
    const store = openStore();
    const { vault, writes } = memoryVault();
    new Autosave(store, vault);
    const bytes = new ArrayBuffer(3);
    store.openJob({ name: 'b.ply', bytes, opened: fakeOpened('b.ply') }, fakePlan());
    await vi.advanceTimersByTimeAsync(AUTOSAVE_DELAY_MS);
    expect(writes).toHaveLength(1);
    expect(writes[0].scan).toEqual({ name: 'b.ply', bytes });
    expect(writes[0].plan).toBe(store.state.plan);
  });

  it('says once that the store is full, loses nothing in memory, and tries again at the next change', async () => {
    let isFull = true;
    const store = openStore();
    let tries = 0;
    const { vault, writes } = memoryVault(() => {
      tries++;
      return isFull ? new DOMException('full', 'QuotaExceededError') : null;
    });
    new Autosave(store, vault);
    store.edit(setCoatThickness(0, 7));
    await vi.advanceTimersByTimeAsync(10 * AUTOSAVE_DELAY_MS);
    expect(tries).toBe(1);
    expect(store.state.notices.map((n) => n.text).join()).toMatch(/full.*save the plan to a file/s);
    expect(store.state.plan.coats[0].thicknessMm).toBe(7);
    isFull = false;
    store.setPrefs({ apart: 0.2 });
    await vi.advanceTimersByTimeAsync(AUTOSAVE_DELAY_MS);
    expect(writes).toEqual([{ plan: store.state.plan, prefs: store.state.prefs }]);
    expect(store.state.notices).toEqual([]);
  });

  it('writes at once when the page is about to go', async () => {
    const store = openStore();
    const { vault, writes } = memoryVault();
    const autosave = new Autosave(store, vault);
    store.edit(setCoatThickness(0, 7));
    await autosave.flush();
    expect(writes).toHaveLength(1);
  });
});
