import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { readPlanBundle } from '../../src/io/readPlanBundle.ts';
import { writePlanBundle } from '../../src/io/writePlanBundle.ts';
import { type BundleParts, type Planner, PlannerError } from '../../src/jobs/protocol.ts';
import { progressOf, putProgress, tickStep } from '../../src/session/benchProgress.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import type { SessionStore } from '../../src/session/SessionStore.ts';
import { setJobName } from '../../src/session/scanActions.ts';
import { startTimer, timerId } from '../../src/session/timers.ts';
import { BIN_KEPT_MS } from '../../src/ui/control/DrawerKeeper.ts';
import { type Demo, Workshop } from '../../src/ui/control/Workshop.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';
import { MemoryBrowser } from '../session/memoryVault.ts';

const bytesOf = (text: string): ArrayBuffer => new TextEncoder().encode(text).buffer as ArrayBuffer;
const absent = () => Promise.reject(new DOMException('not here', 'AbortError'));

/** Opens everything but what begins with "bad", answers every plan at once, and packs files as the worker does. */
function quietPlanner(): Planner {
  return {
    open: (name, bytes) =>
      new TextDecoder().decode(bytes).startsWith('bad')
        ? Promise.reject(
            new PlannerError({ kind: 'mesh', code: 'unknown-format', message: 'It is no mesh.' }),
          )
        : Promise.resolve(fakeOpened(name)),
    plan: (plan, revision, { onAnswer }) => {
      onAnswer(fakeAnswer(plan, revision));
      return Promise.resolve();
    },
    path: absent,
    section: absent,
    chart: absent,
    suggest: absent,
    snap: absent,
    smooth: absent,
    map: absent,
    sides: absent,
    bundle: (parts) => Promise.resolve(writePlanBundle(parts)),
    unbundle: (name, bytes): Promise<BundleParts> => readPlanBundle(bytes, name),
    dispose: () => {},
  };
}

const demo: Demo = { name: 'fish.ply', plan: null, fetchBytes: () => Promise.resolve(bytesOf('ply')) };

async function openTab(browser = new MemoryBrowser()) {
  const workshop = new Workshop(quietPlanner(), browser.openTab(), demo);
  await workshop.start();
  const { store, drawer } = workshop;
  const drop = async (name: string, content: string | ArrayBuffer = `solid ${name}`) => {
    await workshop.openFile(new File([content], name));
    await workshop.flush();
  };
  const said = () => store.state.notices.map(({ text }) => text).join(' ');
  const names = () => (drawer.state.cards ?? []).map(({ kept }) => kept.name).sort();
  const idOf = (name: string): string => {
    const id = browser.present.find((kept) => kept.name === name)?.id;
    if (id === undefined) throw new Error(`${name} is not kept.`);
    return id;
  };
  return { browser, workshop, store, drawer, drop, said, names, idOf };
}

describe('the plan drawer', () => {
  it('shows what is kept, with size and space, and which is open; the demo is not among it', async () => {
    const { drawer, drop } = await openTab();
    await drawer.open();
    expect(drawer.state.cards).toEqual([]);
    await drop('bust.stl');
    await drop('lion.stl');
    await drawer.open();
    const cards = drawer.state.cards ?? [];
    expect(cards.map(({ kept, isOpen }) => [kept.name, isOpen]).sort()).toEqual([
      ['bust', false],
      ['lion', true],
    ]);
    expect(cards[0].kept.sizeMm).toEqual([20, 10, 30]);
    expect(drawer.state.keptBytes).toBeGreaterThan('solid bust.stl'.length + 'solid lion.stl'.length);
  });

  it('opens a kept plan with its scan; what was open stays kept as it was left', async () => {
    const { workshop, store, browser, drop, idOf } = await openTab();
    await drop('bust.stl');
    store.edit(setCoatThickness(0, 7));
    await drop('lion.stl');
    expect(store.state.plan.coats[0].thicknessMm).not.toBe(7);
    expect(await workshop.openKept(idOf('bust'))).toBe(true);
    expect(store.state.scan?.name).toBe('bust.stl');
    expect(store.state.plan.coats[0].thicknessMm).toBe(7);
    store.edit(setCoatThickness(0, 8));
    await workshop.flush();
    expect(browser.present).toHaveLength(2);
  });

  it('duplicates under a new name and shares the scan; renames both the open one and a closed one', async () => {
    const { workshop, store, drawer, browser, drop, names, idOf } = await openTab();
    await drop('bust.stl');
    await drawer.open();
    await drawer.copy(idOf('bust'));
    await drawer.copy(idOf('bust'));
    expect(names()).toEqual(['bust', 'bust, copy', 'bust, copy 2']);
    expect(browser.scanWrites).toHaveLength(1);
    await drawer.rename(idOf('bust'), 'Nymph');
    expect(store.state.plan.job.name).toBe('Nymph');
    await drawer.rename(idOf('bust, copy'), 'Satyr');
    expect(names()).toEqual(['Nymph', 'Satyr', 'bust, copy 2']);
    await workshop.openKept(idOf('Satyr'));
    expect(store.state.plan.job.name).toBe('Satyr');
  });

  it('deletes with a way back, and erases for good with the scan that no other plan has', async () => {
    const { workshop, store, drawer, browser, drop, said, names, idOf } = await openTab();
    await drop('bust.stl');
    await drop('lion.stl');
    await drawer.open();
    const id = idOf('bust');
    await workshop.binKept(id);
    expect(names()).toEqual(['lion']);
    expect(drawer.state.binned.map(({ kept }) => kept.name)).toEqual(['bust']);
    expect(said()).toContain('“bust” was deleted.');
    expect(store.state.notices[0].choices).toEqual([{ text: 'Put back', command: { do: 'put-back', id } }]);
    await drawer.putBack(id);
    expect(names()).toEqual(['bust', 'lion']);
    expect(said()).toBe('');
    await workshop.binKept(id);
    await drawer.erase(id);
    expect(browser.plans.size).toBe(1);
    expect(browser.scans.size).toBe(1);
    expect(await drawer.putBack(id)).toBe(false);
    expect(drawer.state.problem).toContain('no longer there');
  });

  it('a shared scan outlasts the plan that brought it', async () => {
    const { drawer, browser, drop, idOf, workshop } = await openTab();
    await drop('bust.stl');
    await drawer.copy(idOf('bust'));
    await drawer.erase(idOf('bust'));
    expect(browser.scans.size).toBe(1);
    expect(await workshop.openKept(idOf('bust, copy'))).toBe(true);
  });

  it('deleting the open plan opens the one changed last, or the demo when there is none', async () => {
    const { workshop, store, drawer, drop, idOf } = await openTab();
    await drop('bust.stl');
    await drop('lion.stl');
    await drawer.open();
    await workshop.binKept(idOf('lion'));
    expect(store.state.scan?.name).toBe('bust.stl');
    await workshop.binKept(idOf('bust'));
    expect(store.state.scan?.name).toBe('fish.ply');
  });

  it('what has lain in the bin for a day is erased at the next start, later things are not', async () => {
    const { workshop, browser, drop, idOf } = await openTab();
    await drop('bust.stl');
    await drop('lion.stl');
    const [old, young] = [idOf('bust'), idOf('lion')];
    await workshop.binKept(old);
    await workshop.binKept(young);
    const kept = browser.plans.get(old);
    if (!kept) throw new Error('It is not there.');
    browser.plans.set(old, { ...kept, binnedAt: new Date(Date.now() - BIN_KEPT_MS - 1000).toISOString() });
    await openTab(browser);
    await new Promise((resolve) => setTimeout(resolve, 0));
    expect([...browser.plans.keys()]).toEqual([young]);
  });

  it('says in the drawer why the store does not answer, and that this is all in the tab only', async () => {
    const { browser, workshop, drawer, drop, store } = await openTab();
    browser.fail = () => new DOMException('full', 'QuotaExceededError');
    await drop('bust.stl');
    await drop('lion.stl');
    await drawer.open();
    expect(drawer.state.unkept.map(({ scan }) => scan.name)).toEqual(['bust.stl']);
    await workshop.openUnkept(0);
    expect(store.state.scan?.name).toBe('bust.stl');
    await workshop.flush();
    await drawer.open();
    expect(drawer.state.unkept.map(({ scan }) => scan.name)).toEqual(['lion.stl']);
    browser.isBlocked = true;
    await drawer.open();
    expect(drawer.state.problem).toContain('SecurityError');
  });

  it('erasing makes room: what could not be kept is tried again at once', async () => {
    const { browser, drawer, drop, idOf, store } = await openTab();
    await drop('bust.stl');
    const id = idOf('bust');
    browser.fail = () =>
      browser.plans.has(id) && browser.tried.at(-1) !== 'erase'
        ? new DOMException('full', 'QuotaExceededError')
        : null;
    await drop('lion.stl');
    expect(store.state.keeping).toBe('failed');
    await drawer.erase(id);
    expect(browser.present.map(({ name }) => name)).toEqual(['lion']);
    expect(store.state.keeping).toBe('kept');
  });
});

describe('plans of other versions', () => {
  const newer = { schema: 'scute-plan/99', job: { name: 'From tomorrow' }, surprise: { deep: [1, 2] } };

  async function openWith(plan: unknown) {
    const browser = new MemoryBrowser();
    const kept = await browser
      .openTab()
      .plans.create({ name: 'Bust', scanName: 'bust.stl', bytes: bytesOf('solid'), plan, sizeMm: null });
    browser.openId = kept.id;
    return { ...(await openTab(browser)), id: kept.id };
  }

  it('one of a later version is refused with why, left untouched, and can be saved to a file', async () => {
    const { browser, workshop, store, drawer, said, id } = await openWith(newer);
    expect(said()).toMatch(/“Bust”.*later version.*left as it is/s);
    // Its scan can be worked on meanwhile, in a plan of its own.
    expect(store.state.scan?.name).toBe('bust.stl');
    store.edit(setCoatThickness(0, 7));
    await workshop.flush();
    expect(browser.plans.get(id)).toMatchObject({ revision: 1, plan: newer });
    expect(browser.present).toHaveLength(2);
    await drawer.open();
    expect(drawer.state.cards?.find(({ kept }) => kept.id === id)?.trouble).toContain('later version');
    expect(await workshop.openKept(id)).toBe(false);
    expect(await drawer.rename(id, 'Mine')).toBe(false);
    expect(browser.plans.get(id)).toMatchObject({ revision: 1, plan: newer });
    const file = await workshop.bundle(id);
    expect(file?.name).toBe('Bust.scute');
    const parts = await readPlanBundle(file?.bytes ?? new ArrayBuffer(0), 'Bust.scute');
    expect(JSON.parse(parts.planText)).toEqual(newer);
    expect(new TextDecoder().decode(parts.scanBytes)).toBe('solid');
  });

  it('one of version 1 opens, with what was decided in it', async () => {
    const file = new URL('../fixtures/fish-plan-1.scute.json', import.meta.url);
    const old = JSON.parse(readFileSync(file, 'utf8'));
    expect(old.schema).toBe('scute-plan/1');
    const { browser, store, said } = await openWith(old);
    expect(said()).toBe('');
    expect(store.state.plan.coats.map(({ thicknessMm }) => thicknessMm)).toEqual(
      old.coats.map(({ thicknessMm }: { thicknessMm: number }) => thicknessMm),
    );
    expect(browser.present).toHaveLength(1);
  });

  it('a scan that was kept ahead of its plan opens with a new one', async () => {
    const { store, said } = await openWith(null);
    expect(said()).toBe('');
    expect(store.state.plan.scan.file).toBe('bust.stl');
  });
});

describe('one file of plan and scan', () => {
  it('opens in another browser to the same plan and the same bytes', async () => {
    const first = await openTab();
    await first.drop('bust.stl');
    first.store.edit(setCoatThickness(0, 7));
    const file = await first.workshop.bundle();
    expect(file?.name).toBe('bust.scute');
    const second = await openTab();
    await second.drop('whatever.scute', file?.bytes);
    expect(second.store.state.plan).toEqual(first.store.state.plan);
    expect(second.store.state.scan?.name).toBe('bust.stl');
    expect(second.browser.present).toHaveLength(1);
    expect(new TextDecoder().decode(second.store.state.scan?.bytes)).toBe('solid bust.stl');
  });

  it('what cannot be read changes nothing, and is told of', async () => {
    const { store, drop, said } = await openTab();
    await drop('bust.stl');
    const { plan, scan } = store.state;
    const parts = { planText: '{}', scanName: 'a.stl', scanBytes: bytesOf('solid'), picture: null };
    const cases: readonly (readonly [string, string | ArrayBuffer, RegExp])[] = [
      ['cut.scute', writePlanBundle(parts).slice(0, 90), /cut off/],
      ['not.scute', 'hello', /no plan with its scan/],
      ['odd.scute', writePlanBundle({ ...parts, planText: 'not json' }), /not JSON/],
      ['none.scute', writePlanBundle(parts), /not a plan/],
      ['new.scute', writePlanBundle({ ...parts, planText: '{"schema":"scute-plan/99"}' }), /later version/],
      [
        'scan.scute',
        writePlanBundle({ ...parts, planText: JSON.stringify(fakePlan()), scanBytes: bytesOf('bad') }),
        /no mesh/,
      ],
    ];
    for (const [name, content, why] of cases) {
      await drop(name, content);
      expect(said(), name).toMatch(why);
      expect(store.state.plan, name).toBe(plan);
      expect(store.state.scan, name).toBe(scan);
    }
  });
});

describe('two tabs', () => {
  it('a reload comes back to the plan; takes over what the other wrote when asked to; the copy goes into the bin', async () => {
    const browser = new MemoryBrowser();
    const first = await openTab(browser);
    await first.drop('bust.stl');
    const second = await openTab(browser);
    expect(second.store.state.scan?.name).toBe('bust.stl');
    first.store.edit(setCoatThickness(0, 7));
    await first.workshop.flush();
    second.store.edit(setCoatThickness(0, 9));
    await second.workshop.flush();
    expect(second.said()).toContain('kept beside it, as “bust, copy”');
    await second.workshop.takeOther();
    expect(second.store.state.plan.coats[0].thicknessMm).toBe(7);
    expect(browser.present.map(({ name }) => name)).toEqual(['bust']);
    const [binned] = [...browser.plans.values()].filter(({ binnedAt }) => binnedAt !== null);
    expect((binned.plan as PlanDocument).coats[0].thicknessMm).toBe(9);
  });

  it('timers started in one tab are not lost to a change of looks in the other', async () => {
    const browser = new MemoryBrowser();
    const first = await openTab(browser);
    await first.drop('bust.stl');
    const second = await openTab(browser);
    const mix = { id: 'mix', label: 'Mix', minutes: 10 };
    first.store.setPrefs({ timers: startTimer([], mix, Date.now()) });
    await first.workshop.flush();
    await new Promise((resolve) => setTimeout(resolve, 0));
    second.store.setPrefs({ apart: 0.4 });
    await second.workshop.flush();
    const { timers } = browser.prefs as { timers: unknown };
    expect(timers).toEqual(first.store.state.prefs.timers);
    expect(timers).toHaveLength(1);
  });

  const TICK = { id: 'A/wall', what: 'Wall', atMs: 5 };
  const tickIn = (store: SessionStore) => {
    const { jobKey, prefs } = store.state;
    const ticked = tickStep(progressOf(prefs.bench, jobKey), TICK);
    store.setPrefs({
      bench: putProgress(prefs.bench, ticked),
      timers: startTimer(prefs.timers, { id: timerId(jobKey, 'A/dry'), label: 'A', minutes: 10 }, Date.now()),
    });
  };
  const ticksIn = ({ state }: SessionStore) => progressOf(state.prefs.bench, state.jobKey).ticks;

  it('two plans over one scan and under one name share no ticks; a new name loses none; each has its own again', async () => {
    const { store, workshop, drop, browser } = await openTab();
    await drop('bust.stl');
    const first = store.state.jobKey;
    expect(first).toBe(browser.present[0].id);
    tickIn(store);
    store.edit(setJobName('Second try'));
    await workshop.flush();
    expect(ticksIn(store)).toEqual([TICK]);
    store.edit(setJobName('bust'));
    await workshop.flush();

    await workshop.openScan('bust.stl', bytesOf('solid bust.stl'), null);
    await workshop.flush();
    expect(browser.present).toHaveLength(2);
    expect(store.state.jobKey).not.toBe(first);
    expect(ticksIn(store)).toEqual([]);
    await workshop.openKept(first);
    expect(ticksIn(store)).toEqual([TICK]);
  });

  it('what was ticked before the browser kept the plan goes along when it does, timers too', async () => {
    const { store, workshop } = await openTab();
    expect(store.state.keeping).toBe('untouched');
    const before = store.state.jobKey;
    tickIn(store);
    store.edit(setJobName('My fish'));
    await workshop.flush();
    expect(store.state.keeping).toBe('kept');
    expect(store.state.jobKey).not.toBe(before);
    expect(ticksIn(store)).toEqual([TICK]);
    expect(store.state.prefs.timers.map(({ id }) => id)).toEqual([timerId(store.state.jobKey, 'A/dry')]);
    expect(progressOf(store.state.prefs.bench, before).ticks).toEqual([]);
  });

  it('ticks kept by an earlier version, under scan and name, are found under the plan’s own id', async () => {
    const { store, workshop, drop } = await openTab();
    await drop('bust.stl');
    const id = store.state.jobKey;
    store.setPrefs({ bench: [tickStep(progressOf([], 'bust.stl/bust'), TICK)] });
    await workshop.openDemo();
    await workshop.openKept(id);
    expect(ticksIn(store)).toEqual([TICK]);
    expect(store.state.prefs.bench.map(({ job }) => job)).toEqual([id]);
  });
});

describe('a new scan', () => {
  it('begins at the stage Scan; an opened plan, a bad file and the same scan again leave the stage', async () => {
    const { store, drop, workshop } = await openTab();
    store.setPrefs({ stage: 'mix', isAtBench: true });
    await drop('bad.stl', 'bad');
    expect(store.state.prefs.stage).toBe('mix');
    await drop('bust.stl');
    expect(store.state.prefs).toMatchObject({ stage: 'scan', isAtBench: false });
    const bust = store.state.jobKey;
    store.setPrefs({ stage: 'coats' });
    await drop('bust.stl');
    expect(store.state.prefs.stage).toBe('coats');
    await drop('lion.stl');
    store.setPrefs({ stage: 'sheet' });
    await workshop.openKept(bust);
    expect(store.state.prefs.stage).toBe('sheet');
  });
});
