import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { readPlanBundle } from '../../src/io/readPlanBundle.ts';
import { writePlanBundle } from '../../src/io/writePlanBundle.ts';
import {
  type BundleParts,
  type JobFailure,
  type LinePicture,
  type PlanAnswer,
  type Planner,
  PlannerError,
} from '../../src/jobs/protocol.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import type { SessionStore } from '../../src/session/SessionStore.ts';
import type { SessionVault, StoredSession } from '../../src/session/SessionVault.ts';
import { setShopName } from '../../src/session/scanActions.ts';
import { insertionIndex } from '../../src/ui/control/insertionIndex.ts';
import { NewestOnly } from '../../src/ui/control/NewestOnly.ts';
import { type Demo, Workshop } from '../../src/ui/control/Workshop.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';
import { MemoryBrowser } from '../session/memoryVault.ts';

interface PlanCall {
  readonly plan: PlanDocument;
  readonly revision: number;
  readonly answer: (isFinal?: boolean) => void;
  readonly end: () => void;
  readonly fail: (error: unknown) => void;
  readonly signal: AbortSignal;
}

const LOST: JobFailure = {
  kind: 'worker-lost',
  code: 'worker-lost',
  message: 'The calculation stopped (killed). Your plan is kept.',
};

/** A planner whose plans are answered by the test; a file that begins with "bad" cannot be read. */
class FakePlanner implements Planner {
  readonly calls: PlanCall[] = [];
  readonly paths: { points: number; resolve: (line: LinePicture) => void }[] = [];
  /** How many of the next openings the worker does not live through. */
  deadlyOpenings = 0;
  private readonly ears = new Set<(why: JobFailure) => void>();

  /** The worker is lost: the plan under way rejects, whoever listens is told. */
  loseWorker(): void {
    this.calls.at(-1)?.fail(new PlannerError(LOST));
    for (const ear of this.ears) ear(LOST);
  }

  listenLost(ear: (why: JobFailure) => void) {
    this.ears.add(ear);
    return () => this.ears.delete(ear);
  }

  open(name: string, bytes: ArrayBuffer) {
    if (this.deadlyOpenings > 0) {
      this.deadlyOpenings--;
      return Promise.reject(new PlannerError(LOST));
    }
    const text = new TextDecoder().decode(bytes);
    if (text.startsWith('bad')) {
      return Promise.reject(
        new PlannerError({ kind: 'mesh', code: 'unknown-format', message: 'It is a picture, not a mesh.' }),
      );
    }
    return Promise.resolve(fakeOpened(name));
  }

  plan(
    plan: PlanDocument,
    revision: number,
    options: { signal?: AbortSignal; onAnswer: (a: PlanAnswer) => void },
  ) {
    return new Promise<void>((resolve, reject) => {
      const signal = options.signal ?? new AbortController().signal;
      signal.addEventListener('abort', () => reject(new DOMException('cancelled', 'AbortError')));
      this.calls.push({
        plan,
        revision,
        signal,
        answer: (isFinal = true) => options.onAnswer(fakeAnswer(plan, revision, isFinal)),
        end: resolve,
        fail: reject,
      });
    });
  }

  path(points: readonly unknown[]) {
    return new Promise<LinePicture>((resolve) => this.paths.push({ points: points.length, resolve }));
  }

  section() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  chart() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  suggest() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  snap() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  smooth() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  map() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  sides() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  bundle(parts: BundleParts) {
    return Promise.resolve(writePlanBundle(parts));
  }

  unbundle(name: string, bytes: ArrayBuffer): Promise<BundleParts> {
    return readPlanBundle(bytes, name);
  }

  dispose() {}

  get last(): PlanCall {
    const call = this.calls.at(-1);
    if (!call) throw new Error('No plan was asked for.');
    return call;
  }
}

const bytesOf = (text: string): ArrayBuffer => new TextEncoder().encode(text).buffer as ArrayBuffer;

const demo: Demo = { name: 'fish.ply', plan: null, fetchBytes: () => Promise.resolve(bytesOf('ply')) };

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

async function openWorkshop(vault: SessionVault = new MemoryBrowser().openTab()) {
  const planner = new FakePlanner();
  const workshop = new Workshop(planner, vault, demo);
  await workshop.start();
  return { planner, workshop, store: workshop.store };
}

async function openPlanned() {
  const all = await openWorkshop();
  all.planner.last.answer();
  all.planner.last.end();
  await settle();
  return all;
}

describe('Workshop', () => {
  it('opens the demo at the first start and plans it', async () => {
    const { planner, store } = await openWorkshop();
    expect(store.state.scan?.name).toBe('fish.ply');
    expect(planner.calls).toHaveLength(1);
    planner.last.answer(false);
    expect(store.state.answer?.isFinal).toBe(false);
    planner.last.answer(true);
    planner.last.end();
    await settle();
    expect(store.state.answer?.isFinal).toBe(true);
    expect(store.state.job).toBeNull();
  });

  it('leaves the open plan as it was when a file cannot be read, and says why', async () => {
    const { workshop, store } = await openPlanned();
    store.edit(setCoatThickness(0, 7));
    const { plan, scan, revision } = store.state;
    await workshop.openFile(new File(['bad picture'], 'cat.stl'));
    expect(store.state.plan).toBe(plan);
    expect(store.state.scan).toBe(scan);
    expect(store.state.revision).toBe(revision);
    expect(store.state.notices.at(-1)?.text).toBe(
      'cat.stl was not opened. It is a picture, not a mesh. fish.ply stays open.',
    );
  });

  it('the shop’s name goes along to the next scan, but never the invented one of the demo', async () => {
    const invented = { ...fakePlan(), job: { name: 'Fish', shop: 'Made-up Loft' } };
    const workshop = new Workshop(new FakePlanner(), new MemoryBrowser().openTab(), {
      ...demo,
      plan: invented,
    });
    await workshop.start();
    expect(workshop.store.state.plan.job.shop).toBe('Made-up Loft');
    await workshop.openFile(new File(['solid'], 'angel.stl'));
    expect(workshop.store.state.plan.job.shop).toBe('');
    workshop.store.edit(setShopName('Our own shop'));
    await workshop.openFile(new File(['solid'], 'lion.stl'));
    expect(workshop.store.state.plan.job).toMatchObject({ name: 'lion', shop: 'Our own shop' });
  });

  it('asks again for a plan that reading a bad file broke off', async () => {
    const { workshop, planner } = await openWorkshop();
    const broken = planner.last;
    await workshop.openFile(new File(['bad'], 'cat.stl'));
    expect(broken.signal.aborted).toBe(true);
    expect(planner.calls).toHaveLength(2);
    expect(planner.last.revision).toBe(broken.revision);
  });

  it('a file dropped before the demo has come is not put aside by it, and is kept', async () => {
    let sendDemo = (_: ArrayBuffer): void => {};
    const late = new Promise<ArrayBuffer>((resolve) => {
      sendDemo = resolve;
    });
    const browser = new MemoryBrowser();
    const workshop = new Workshop(new FakePlanner(), browser.openTab(), { ...demo, fetchBytes: () => late });
    const started = workshop.start();
    await workshop.openFile(new File(['solid'], 'bust.stl'));
    sendDemo(bytesOf('ply'));
    await started;
    expect(workshop.store.state.scan?.name).toBe('bust.stl');
    await workshop.flush();
    expect(browser.present.map(({ scanName }) => scanName)).toEqual(['bust.stl']);
  });

  it('a file dropped before the store has answered goes before what an earlier visit left', async () => {
    const browser = new MemoryBrowser();
    const earlier = await openWorkshop(browser.openTab());
    await earlier.workshop.openFile(new File(['old'], 'old.stl'));
    await earlier.workshop.flush();
    const { openId } = browser;
    let answer = (_: StoredSession): void => {};
    const late = new Promise<StoredSession>((resolve) => {
      answer = resolve;
    });
    const workshop = new Workshop(new FakePlanner(), { ...browser.openTab(), load: () => late }, demo);
    const started = workshop.start();
    await workshop.openFile(new File(['solid'], 'bust.stl'));
    answer({ prefs: null, openId });
    await started;
    expect(workshop.store.state.scan?.name).toBe('bust.stl');
    await workshop.flush();
    expect(browser.present.map(({ scanName }) => scanName)).toEqual(['old.stl', 'bust.stl']);
  });

  it('brings everything back after a reload', async () => {
    const browser = new MemoryBrowser();
    const first = await openWorkshop(browser.openTab());
    await first.workshop.openFile(new File(['solid'], 'bust.stl'));
    first.store.edit(setCoatThickness(0, 7));
    first.store.setPrefs({ units: 'us', stage: 'coats' });
    await first.workshop.flush();

    const second = await openWorkshop(browser.openTab());
    expect(second.store.state.scan?.name).toBe('bust.stl');
    expect(second.store.state.plan).toEqual(first.store.state.plan);
    expect(second.store.state.prefs).toMatchObject({ units: 'us', stage: 'coats' });
    expect(second.planner.calls).toHaveLength(1);
  });

  it('says that the store is blocked and works without it', async () => {
    const browser = new MemoryBrowser();
    browser.isBlocked = true;
    browser.fail = () => new DOMException('no', 'SecurityError');
    const { store, planner } = await openWorkshop({
      ...browser.openTab(),
      load: () => Promise.reject(new DOMException('no', 'SecurityError')),
    });
    expect(store.state.notices.map((n) => n.text).join()).toContain('SecurityError');
    expect(planner.calls).toHaveLength(1);
  });

  it('opens a plan file as one change that can be undone, and refuses a broken one', async () => {
    const { workshop, store } = await openPlanned();
    const own = store.state.plan;
    const other = setCoatThickness(1, 4)(fakePlan());
    await workshop.openFile(new File([JSON.stringify(other)], 'p.scute.json'));
    expect(store.state.plan).toEqual(other);
    expect(store.state.notices.at(-1)?.text).toContain('made for bust.stl');
    workshop.undo();
    expect(store.state.plan).toEqual(own);
    await workshop.openFile(new File(['{"schema":"scute-plan/2"}'], 'p.json'));
    expect(store.state.plan).toEqual(own);
    expect(store.state.notices.at(-1)?.text).toContain('Nothing was changed');
    await workshop.openFile(new File(['not json'], 'p.json'));
    expect(store.state.notices.at(-1)?.text).toContain('It is not JSON');
  });

  it('a plan opened ahead of its scan waits for it', async () => {
    const { workshop, store } = await openPlanned();
    const other = setCoatThickness(1, 4)(fakePlan());
    await workshop.openFile(new File([JSON.stringify(other)], 'p.scute.json'));
    await workshop.openFile(new File(['solid'], other.scan.file));
    expect(store.state.scan?.name).toBe(other.scan.file);
    expect(store.state.plan).toEqual(other);
  });

  it('a good file and a bad one right after it: the good one is open, as the worker has it', async () => {
    const { workshop, store, planner } = await openPlanned();
    await Promise.all([
      workshop.openFile(new File(['solid'], 'bust.stl')),
      workshop.openFile(new File(['bad picture'], 'cat.stl')),
    ]);
    await settle();
    expect(store.state.scan?.name).toBe('bust.stl');
    expect(store.state.notices.at(-1)?.text).toContain('cat.stl was not opened.');
    expect(planner.last.plan.scan.file).toBe('bust.stl');
  });

  it('writes a plan file that opens to the same plan', async () => {
    const { workshop, store } = await openPlanned();
    const { name, text } = workshop.planFile();
    expect(name).toBe('fish.scute.json');
    expect(JSON.parse(text)).toEqual(store.state.plan);
  });
});

describe('PlanRunner', () => {
  it('cancels the older plan for the newer', async () => {
    const { planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    const older = planner.last;
    store.edit(setCoatThickness(0, 4));
    expect(older.signal.aborted).toBe(true);
    older.answer();
    expect(store.state.answer?.revision).toBeLessThan(older.revision);
    planner.last.answer();
    expect(store.state.answer?.revision).toBe(store.state.revision);
  });

  it('lets a drag see answers: the job under way is not cut off by every step', async () => {
    const { planner, store } = await openPlanned();
    const count = planner.calls.length;
    for (const mm of [3, 3.1, 3.2, 3.3]) store.edit(setCoatThickness(0, mm), 'drag');
    expect(planner.calls).toHaveLength(count + 1);
    expect(planner.last.signal.aborted).toBe(false);
    planner.last.answer();
    expect(planner.calls).toHaveLength(count + 2);
    expect(planner.last.plan.coats[0].thicknessMm).toBe(3.3);
  });

  it('shows why there is no answer, and clears it with the next change', async () => {
    const { planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    planner.last.fail(new PlannerError({ kind: 'plan', code: 'bad-coats', message: 'Too thin.' }));
    await settle();
    expect(store.state.failure?.message).toBe('Too thin.');
    expect(store.state.job).toBeNull();
    store.edit(setCoatThickness(0, 4));
    expect(store.state.failure).toBeNull();
  });

  it('stops when told to and goes on when asked', async () => {
    const { workshop, planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    workshop.runner.cancel();
    await settle();
    expect(planner.last.signal.aborted).toBe(true);
    expect(store.state.failure?.code).toBe('stopped');
    const count = planner.calls.length;
    await workshop.planAgain();
    expect(planner.calls).toHaveLength(count + 1);
  });
});

describe('a worker that is lost', () => {
  const said = (store: SessionStore) => store.state.notices.map(({ text }) => text).join(' ');

  it('in the middle of a plan: said, and worked out again by itself, with plan, scan and history as they were', async () => {
    const { planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    const { plan, scan, revision } = store.state;
    const count = planner.calls.length;
    planner.loseWorker();
    await settle();
    expect(planner.calls).toHaveLength(count + 1);
    expect(planner.last.revision).toBe(revision);
    expect(said(store)).toBe(`${LOST.message} The calculation was begun again.`);
    expect(store.state.failure).toBeNull();
    expect(store.state).toMatchObject({ plan, scan, revision, canUndo: true });
    planner.last.answer();
    planner.last.end();
    await settle();
    expect(store.state.answer?.revision).toBe(revision);
    expect(store.state.job).toBeNull();
  });

  it('a second time at the same plan: not tried for ever, said why; asked for, or changed, it begins anew', async () => {
    const { workshop, planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    const count = planner.calls.length;
    planner.loseWorker();
    await settle();
    planner.loseWorker();
    await settle();
    expect(planner.calls).toHaveLength(count + 1);
    expect(store.state.failure?.message).toContain('coarser resolution');
    expect(store.state.job).toBeNull();
    expect(store.state.answer).not.toBeNull();
    workshop.planAgain();
    expect(planner.calls).toHaveLength(count + 2);
    expect(store.state.failure).toBeNull();
    planner.loseWorker();
    await settle();
    expect(planner.calls).toHaveLength(count + 3);
    store.edit(setCoatThickness(0, 4));
    expect(planner.last.plan.coats[0].thicknessMm).toBe(4);
  });

  it('while nothing was under way: planned again, so that lines and cuts can be asked for', async () => {
    const { planner, store } = await openPlanned();
    const count = planner.calls.length;
    planner.loseWorker();
    expect(planner.calls).toHaveLength(count + 1);
    expect(planner.last.revision).toBe(store.state.revision);
    expect(said(store)).toContain('begun again');
  });

  it('a plan that was stopped by hand is not begun again by it', async () => {
    const { workshop, planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    workshop.runner.cancel();
    await settle();
    const count = planner.calls.length;
    planner.loseWorker();
    await settle();
    expect(planner.calls).toHaveLength(count);
    expect(store.state.failure?.code).toBe('stopped');
  });

  it('no memory for a plan is no reason to try the same again', async () => {
    const { planner, store } = await openPlanned();
    store.edit(setCoatThickness(0, 3));
    const count = planner.calls.length;
    planner.last.fail(
      new PlannerError({ kind: 'out-of-memory', code: 'out-of-memory', message: 'Too much.' }),
    );
    planner.loseWorker();
    await settle();
    expect(planner.calls).toHaveLength(count);
    expect(store.state.failure?.message).toBe('Too much.');
  });

  it('while a file is read: read once more; lost again, it says so, and what was open stays', async () => {
    const { workshop, planner, store } = await openPlanned();
    planner.deadlyOpenings = 1;
    await workshop.openFile(new File(['solid'], 'bust.stl'));
    expect(store.state.scan?.name).toBe('bust.stl');
    planner.deadlyOpenings = 2;
    await workshop.openFile(new File(['solid'], 'lion.stl'));
    expect(store.state.scan?.name).toBe('bust.stl');
    expect(said(store)).toBe(`lion.stl was not opened. ${LOST.message} bust.stl stays open.`);
    expect(planner.last.plan.scan.file).toBe('bust.stl');
  });
});

describe('LineDrafter', () => {
  it('draws: points, step back, finish; the line is one entry of the history', async () => {
    const { workshop, planner, store } = await openPlanned();
    const { drafter } = workshop;
    drafter.startDrawing();
    drafter.addPoint([0, -5, 0]);
    expect(drafter.canFinish).toBe(false);
    drafter.addPoint([0, 0, 30]);
    drafter.addPoint([9, 9, 9]);
    workshop.undo();
    expect(drafter.state.points).toHaveLength(2);
    drafter.addPoint([0, 5, 0]);
    expect(planner.paths[0].points).toBe(2);
    drafter.finish();
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [0, 0, 30],
          [0, 5, 0],
        ],
        closed: false,
      },
    ]);
    expect(drafter.state.mode).toBe('look');
    workshop.undo();
    expect(store.state.plan.parting.lines).toBe('auto');
  });

  it('dragging a point of the suggested line makes the line the user’s own, in one entry', async () => {
    const { workshop, store } = await openPlanned();
    workshop.drafter.startEditing();
    for (let i = 0; i < 5; i++) workshop.drafter.movePoint(0, 1, [i, 0, 30], false);
    expect(store.state.plan.parting.lines).toBe('auto');
    workshop.drafter.movePoint(0, 1, [5, 0, 30], true);
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [5, 0, 30],
          [0, 5, 0],
        ],
      },
    ]);
    workshop.undo();
    expect(store.state.plan.parting.lines).toBe('auto');
    expect(store.state.canUndo).toBe(false);
  });

  it('deletes the chosen point', async () => {
    const { workshop, store } = await openPlanned();
    workshop.drafter.startEditing();
    workshop.drafter.select(0, 1);
    workshop.drafter.deleteSelected();
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        points: [
          [0, -5, 0],
          [0, 5, 0],
        ],
      },
    ]);
  });

  it('measures straight between two points', async () => {
    const { workshop } = await openPlanned();
    workshop.drafter.startMeasuring();
    workshop.drafter.addPoint([0, 0, 0]);
    expect(workshop.drafter.measuredMm).toBeNull();
    workshop.drafter.addPoint([3, 4, 12]);
    expect(workshop.drafter.measuredMm).toBe(13);
  });
});

describe('insertionIndex', () => {
  it('finds the nearest span of the nearest line', () => {
    const lines = [
      {
        id: 'a',
        closed: false,
        points: [
          [0, 0, 0],
          [10, 0, 0],
          [10, 10, 0],
        ],
      },
      {
        id: 'b',
        closed: true,
        points: [
          [0, 50, 0],
          [10, 50, 0],
          [5, 60, 0],
        ],
      },
    ] as const;
    expect(insertionIndex(lines, [10, 4, 1])).toEqual({ line: 0, index: 2 });
    expect(insertionIndex(lines, [2, 56, 0])).toEqual({ line: 1, index: 3 });
    expect(insertionIndex([], [0, 0, 0])).toBeNull();
  });
});

describe('NewestOnly', () => {
  it('runs one at a time and skips all but the newest that waits', async () => {
    const started: number[] = [];
    const taken: number[] = [];
    let release: (() => void)[] = [];
    const only = new NewestOnly<number, number>(
      (n) => {
        started.push(n);
        return new Promise((resolve) => release.push(() => resolve(n)));
      },
      (n) => taken.push(n),
      () => {},
    );
    for (const n of [1, 2, 3, 4]) only.ask(n);
    expect(started).toEqual([1]);
    release[0]();
    await settle();
    expect(started).toEqual([1, 4]);
    only.drop();
    release[1]();
    await settle();
    expect(taken).toEqual([1]);
    release = [];
    only.ask(5);
    release[0]();
    await settle();
    expect(taken).toEqual([1, 5]);
  });
});
