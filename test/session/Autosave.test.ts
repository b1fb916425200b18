import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { AUTOSAVE_DELAY_MS, Autosave, RETRY_MS, WRITE_PATIENCE_MS } from '../../src/session/Autosave.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import type { NewKeptPlan } from '../../src/session/KeptPlan.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { setJobName } from '../../src/session/scanActions.ts';
import { fakeOpened, fakePlan } from './fakeAnswer.ts';
import { MemoryBrowser } from './memoryVault.ts';

const bytesOf = (text: string): ArrayBuffer => new TextEncoder().encode(text).buffer as ArrayBuffer;

function openTab(browser: MemoryBrowser) {
  const store = new SessionStore(fakePlan());
  const autosave = new Autosave(store, browser.openTab());
  const openJob = (name: string, plan: PlanDocument = fakePlan(), text = name) =>
    store.openJob({ name, bytes: bytesOf(text), opened: fakeOpened(name) }, plan);
  const said = () => store.state.notices.map(({ text }) => text).join(' ');
  const choices = () => store.state.notices.flatMap((n) => n.choices.map(({ command }) => command.do));
  return { store, autosave, openJob, said, choices };
}

const wait = (ms = AUTOSAVE_DELAY_MS) => vi.advanceTimersByTimeAsync(ms);
const breathe = async () => {
  for (let i = 0; i < 20; i++) await new Promise((resolve) => setImmediate(resolve));
};
const settle = async (ms = AUTOSAVE_DELAY_MS) => {
  await wait(ms);
  await breathe();
};

const planOf = (browser: MemoryBrowser, at = 0) => browser.present[at].plan as PlanDocument;

beforeEach(() => vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] }));
afterEach(() => vi.useRealTimers());

describe('Autosave', () => {
  it('keeps a drag with one write, in less than a second, without writing the scan again', async () => {
    const browser = new MemoryBrowser();
    const { store, openJob } = openTab(browser);
    openJob('bust.stl');
    await settle();
    browser.tried.length = 0;
    expect(AUTOSAVE_DELAY_MS).toBeLessThan(1000);
    for (const mm of [3, 4, 5]) store.edit(setCoatThickness(0, mm), 'drag');
    await settle();
    expect(browser.tried).toEqual(['change']);
    expect(planOf(browser)).toEqual(store.state.plan);
    expect(browser.scanWrites).toEqual([8]);
  });

  it('keeps a scan once, however many plans are made on it', async () => {
    const browser = new MemoryBrowser();
    const { openJob } = openTab(browser);
    openJob('a.stl', fakePlan(), 'same bytes');
    await settle();
    openJob('b.stl', fakePlan(), 'same bytes');
    await settle();
    expect(browser.present).toHaveLength(2);
    expect(browser.scanWrites).toEqual([10]);
  });

  it('keeps a demo only once it is changed', async () => {
    const browser = new MemoryBrowser();
    const { store, autosave, openJob } = openTab(browser);
    autosave.expect({ kept: null, isKeptAtOnce: false });
    openJob('fish.ply');
    await settle();
    expect(browser.present).toEqual([]);
    expect(store.state.keeping).toBe('untouched');
    store.edit(setCoatThickness(0, 7));
    await settle();
    expect(browser.present).toHaveLength(1);
    expect(store.state.keeping).toBe('kept');
  });

  it('a change in the last moment before another job is opened is kept with its own job', async () => {
    const browser = new MemoryBrowser();
    const { store, openJob } = openTab(browser);
    openJob('a.stl');
    await settle();
    store.edit(setCoatThickness(0, 7));
    openJob('b.stl');
    await settle();
    expect(browser.present.map(({ scanName }) => scanName)).toEqual(['a.stl', 'b.stl']);
    expect(planOf(browser, 0).coats[0].thicknessMm).toBe(7);
    expect(planOf(browser, 1).coats[0].thicknessMm).not.toBe(7);
  });

  it('says once that the store is full, loses nothing, and keeps it by itself when there is room', async () => {
    const browser = new MemoryBrowser();
    const { store, openJob, said, choices } = openTab(browser);
    openJob('a.stl');
    await settle();
    browser.fail = () => new DOMException('full', 'QuotaExceededError');
    browser.tried.length = 0;
    store.edit(setCoatThickness(0, 7));
    await settle(10 * AUTOSAVE_DELAY_MS);
    expect(browser.tried).toEqual(['change']);
    expect(said()).toMatch(/full.*save the plan to a file/s);
    expect(choices()).toEqual(['save-bundle', 'keep-again']);
    expect(store.state.keeping).toBe('failed');
    // Put away, it is not said again at the next try; only the title block still says it.
    store.dismiss('autosave');
    store.edit(setCoatThickness(0, 8));
    await settle();
    expect(browser.tried).toHaveLength(2);
    expect(said()).toBe('');
    expect(store.state.keeping).toBe('failed');
    browser.fail = () => null;
    await settle(RETRY_MS);
    expect(planOf(browser).coats[0].thicknessMm).toBe(8);
    expect(store.state.keeping).toBe('kept');
  });

  it('a write that never ends is told of; nothing waits for it, and when it ends after all, all is kept once', async () => {
    const browser = new MemoryBrowser();
    const vault = browser.openTab();
    let goOn = (): void => {};
    const stuck = new Promise<void>((resolve) => {
      goOn = resolve;
    });
    const plans = {
      ...vault.plans,
      create: (fresh: NewKeptPlan) => stuck.then(() => vault.plans.create(fresh)),
    };
    const store = new SessionStore(fakePlan());
    const autosave = new Autosave(store, { ...vault, plans });
    const said = () => store.state.notices.map(({ text }) => text).join(' ');
    store.openJob({ name: 'a.stl', bytes: bytesOf('a'), opened: fakeOpened('a.stl') }, fakePlan());
    await settle();
    expect(said()).toBe('');
    await settle(WRITE_PATIENCE_MS);
    expect(said()).toMatch(/store does not answer.*save the plan to a file/);
    expect(store.state.keeping).toBe('failed');
    store.edit(setCoatThickness(0, 7));
    const flushed = autosave.flush();
    await settle(WRITE_PATIENCE_MS);
    await flushed;
    expect(store.state.notices).toHaveLength(1);
    goOn();
    await settle(RETRY_MS);
    await settle();
    expect(said()).toBe('');
    expect(store.state.keeping).toBe('kept');
    expect(browser.present).toHaveLength(1);
    expect(planOf(browser).coats[0].thicknessMm).toBe(7);
    autosave.dispose();
  });

  it.each([
    ['QuotaExceededError', /store is full/],
    ['NotSupportedError', /gives the page no store/],
    ['TimeoutError', /Another tab holds/],
    ['VersionError', /newer version/],
    ['SecurityError', /does not let the page keep the job \(SecurityError\)/],
    ['AbortError', /does not let the page keep the job \(AbortError\)/],
    ['UnknownError', /does not let the page keep the job \(UnknownError\)/],
  ])(
    '%s in every write: said once, with what to do; work goes on, and is kept once it may be',
    async (name, words) => {
      const browser = new MemoryBrowser();
      const { store, openJob, said, choices } = openTab(browser);
      browser.fail = () => new DOMException('no', name);
      openJob('a.stl');
      const notices = new Set<number>();
      for (const mm of [5, 6, 7]) {
        store.edit(setCoatThickness(0, mm));
        store.setPrefs({ apart: mm / 10 });
        await settle();
        for (const { id } of store.state.notices) notices.add(id);
      }
      expect(notices.size).toBe(1);
      expect(said()).toMatch(words);
      expect(said()).toContain('save the plan to a file');
      expect(choices()).toEqual(['save-bundle', 'keep-again']);
      expect(browser.tried.length).toBeGreaterThan(3);
      browser.fail = () => null;
      await settle(RETRY_MS);
      expect(said()).toBe('');
      expect(planOf(browser).coats[0].thicknessMm).toBe(7);
      expect(browser.prefs).toMatchObject({ apart: 0.7 });
    },
  );

  it('a job that was left while the store was full is held in the tab, and kept when another tab makes room', async () => {
    const browser = new MemoryBrowser();
    browser.fail = () => new DOMException('full', 'QuotaExceededError');
    const { autosave, openJob } = openTab(browser);
    openJob('a.stl', setCoatThickness(0, 7)(fakePlan()));
    await settle();
    openJob('b.stl');
    await settle();
    expect(autosave.unkept.map(({ scan }) => scan.name)).toEqual(['a.stl']);
    browser.fail = () => null;
    browser.openTab().tabs.post({ kind: 'list' });
    await settle();
    expect(browser.present.map(({ scanName }) => scanName)).toEqual(['a.stl', 'b.stl']);
    expect(planOf(browser, 0).coats[0].thicknessMm).toBe(7);
    expect(autosave.unkept).toEqual([]);
  });

  it('writes at once when the page is about to go', async () => {
    const browser = new MemoryBrowser();
    const { store, autosave, openJob } = openTab(browser);
    openJob('a.stl');
    store.edit(setCoatThickness(0, 7));
    await autosave.flush();
    expect(planOf(browser).coats[0].thicknessMm).toBe(7);
  });
});

describe('two tabs on one plan', () => {
  /** Both show the plan that the first has kept. */
  async function openBoth() {
    const browser = new MemoryBrowser();
    const first = openTab(browser);
    first.openJob('bust.stl');
    await settle();
    const [kept] = browser.present;
    const second = openTab(browser);
    second.autosave.expect({ kept, isKeptAtOnce: true });
    second.openJob('bust.stl', kept.plan as PlanDocument);
    await settle();
    return { browser, first, second, id: kept.id };
  }

  it('the one that has changed nothing is told, and may take the other over or stay as it is', async () => {
    const { browser, first, second, id } = await openBoth();
    first.store.edit(setCoatThickness(0, 7));
    await settle();
    expect(second.said()).toContain('changed in another tab');
    expect(second.choices()).toEqual(['take-other', 'keep-copy']);
    expect(second.autosave.otherId).toBe(id);
    await second.autosave.keepAsCopy();
    await breathe();
    expect(second.said()).toBe('');
    expect(browser.present.map(({ name }) => name)).toEqual(['bust', 'bust, copy']);
    expect(planOf(browser, 0).coats[0].thicknessMm).toBe(7);
    // From there on each goes its own way.
    second.store.edit(setCoatThickness(0, 9));
    first.store.edit(setCoatThickness(0, 8));
    await settle();
    expect(planOf(browser, 0).coats[0].thicknessMm).toBe(8);
    expect(planOf(browser, 1).coats[0].thicknessMm).toBe(9);
    expect(first.said()).toBe('');
  });

  it('changes made in both at once are both kept, the later one beside the earlier', async () => {
    const { browser, first, second, id } = await openBoth();
    second.store.edit(setCoatThickness(0, 9));
    first.store.edit(setCoatThickness(0, 7));
    await settle();
    const kept = browser.present.map(({ name, plan }) => [name, (plan as PlanDocument).coats[0].thicknessMm]);
    expect(kept).toHaveLength(2);
    expect(kept.map(([name]) => name).sort()).toEqual(['bust', 'bust, copy']);
    expect(kept.map(([, mm]) => mm).sort()).toEqual([7, 9]);
    const told = [first, second].filter(({ said }) => said().includes('kept beside it'));
    expect(told).toHaveLength(1);
    expect(told[0].choices()).toEqual(['take-other']);
    expect(told[0].autosave.otherId).toBe(id);
    expect(told[0].store.state.plan.job.name).toBe('bust, copy');
  });

  it('without a word between them, the revision alone keeps the later write from overwriting', async () => {
    const { browser, first, second } = await openBoth();
    first.autosave.dispose();
    const deaf = new MemoryBrowser();
    const vault = { ...browser.openTab(), tabs: deaf.openTab().tabs };
    const third = new SessionStore(fakePlan());
    const autosave = new Autosave(third, vault);
    const [kept] = browser.present;
    autosave.expect({ kept, isKeptAtOnce: true });
    third.openJob(
      { name: 'bust.stl', bytes: bytesOf('bust.stl'), opened: fakeOpened('bust.stl') },
      kept.plan as PlanDocument,
    );
    second.store.edit(setCoatThickness(0, 7));
    await settle();
    expect(third.state.notices).toEqual([]);
    await autosave.look();
    expect(third.state.notices.map(({ text }) => text).join()).toContain('changed in another tab');
    third.edit(setCoatThickness(0, 9));
    await settle();
    expect(browser.present.map(({ plan }) => (plan as PlanDocument).coats[0].thicknessMm)).toEqual([7, 9]);
  });

  it('a plan deleted in the other tab is told of; what is changed here is then kept as its own', async () => {
    const { browser, first, second, id } = await openBoth();
    await browser.openTab().plans.bin(id, true);
    await second.autosave.look();
    expect(second.said()).toContain('deleted in another tab');
    expect(second.choices()).toEqual(['put-back', 'keep-copy']);
    second.store.edit(setCoatThickness(0, 9));
    await settle();
    expect(browser.present.map(({ name }) => name)).toEqual(['bust']);
    expect(planOf(browser).coats[0].thicknessMm).toBe(9);
    expect(browser.plans.get(id)?.binnedAt).not.toBeNull();
    first.autosave.dispose();
  });

  it('a name for the copy that is taken already is counted on', async () => {
    const { browser, first, second } = await openBoth();
    await browser.openTab().plans.create({
      name: 'bust, copy',
      scanName: 'x.stl',
      bytes: bytesOf('x'),
      plan: setJobName('bust, copy')(fakePlan()),
      sizeMm: null,
    });
    first.store.edit(setCoatThickness(0, 7));
    await settle();
    await second.autosave.keepAsCopy();
    expect(browser.present.map(({ name }) => name)).toContain('bust, copy 2');
  });
});
