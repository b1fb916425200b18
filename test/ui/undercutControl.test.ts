import { describe, expect, it } from 'vitest';
import type { PullChart } from '../../src/core/parting/pulls/PullChart.ts';
import type { Suggestion } from '../../src/core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { type JobOptions, type Planner, PlannerError } from '../../src/jobs/protocol.ts';
import { setCoatThickness } from '../../src/session/coatActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { addNotHere, FIRST_AVOID_RADIUS_MM } from '../../src/session/undercutActions.ts';
import { PullCharter } from '../../src/ui/control/PullCharter.ts';
import { SuggestionFinder } from '../../src/ui/control/SuggestionFinder.ts';
import { Workshop } from '../../src/ui/control/Workshop.ts';
import { fakeAnswer, fakeOpened, fakePlan } from '../session/fakeAnswer.ts';
import { MemoryBrowser } from '../session/memoryVault.ts';

interface Search {
  readonly plan: PlanDocument;
  readonly counts: readonly number[];
  readonly signal: AbortSignal | undefined;
  readonly progress: JobOptions['progress'];
  readonly bring: (suggestions: readonly Suggestion[]) => void;
  readonly end: () => void;
  readonly fail: (error: unknown) => void;
}

interface Charting {
  readonly of: PullChart['of'];
  readonly signal: AbortSignal | undefined;
  readonly resolve: (chart: PullChart) => void;
  readonly fail: (error: unknown) => void;
}

const aborted = () => new DOMException('cancelled', 'AbortError');

/** A planner whose searches and charts are answered by the test; nothing else is asked of it. */
class QuietPlanner implements Planner {
  readonly searches: Search[] = [];
  readonly chartings: Charting[] = [];

  open(name: string) {
    return Promise.resolve(fakeOpened(name));
  }

  plan() {
    return new Promise<void>(() => {});
  }

  path() {
    return Promise.reject(aborted());
  }

  section() {
    return Promise.reject(aborted());
  }

  chart(of: PullChart['of'], options: JobOptions = {}) {
    return new Promise<PullChart>((resolve, reject) => {
      options.signal?.addEventListener('abort', () => reject(aborted()));
      this.chartings.push({ of, signal: options.signal, resolve, fail: reject });
    });
  }

  suggest(
    plan: PlanDocument,
    counts: readonly number[],
    options: JobOptions & { onSuggestions: (suggestions: readonly Suggestion[]) => void },
  ) {
    return new Promise<void>((resolve, reject) => {
      options.signal?.addEventListener('abort', () => reject(aborted()));
      this.searches.push({
        plan,
        counts,
        signal: options.signal,
        progress: options.progress,
        bring: options.onSuggestions,
        end: resolve,
        fail: reject,
      });
    });
  }

  snap() {
    return Promise.reject(aborted());
  }

  smooth() {
    return Promise.reject(aborted());
  }

  map() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  sides() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  bundle() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }
  unbundle() {
    return Promise.reject(new DOMException('not here', 'AbortError'));
  }

  dispose() {}
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

/** A proposal whose line stands at `x`; the figures mean nothing. */
function proposal(rank: number, x: number): Suggestion {
  return {
    rank,
    why: 'made up',
    lines: [
      {
        id: 'suggested-1',
        closed: false,
        points: [
          [x, -5, 0],
          [x, 0, 30],
          [x, 5, 0],
        ],
      },
    ],
    planPieces: [],
    pieces: [-1, 1].map((side) => ({
      id: side < 0 ? 'A' : 'B',
      pull: [side, 0, 0] as const,
      areaMm2: 500,
      massG: 10,
      undercut: { areaMm2: 0, maxDepthMm: 0, fillerMm3: 0 },
    })),
    partingLines: [],
    lineMm: 60,
    longestFlangeMm: 60,
    maxDepthMm: 0,
    undercutMm2: 0,
    fillerG: 0,
    fillerMm3: 0,
    removal: { order: ['A', 'B'], waits: [], locked: [] },
  };
}

const chartOf = (of: PullChart['of']): PullChart => ({
  of,
  directions: Float32Array.from([0, 0, 1]),
  areaMm2: Float32Array.from([1]),
  depthMm: Float32Array.from([1]),
  fillerMm3: Float32Array.from([1]),
  best: [0],
  stepDeg: 5,
});

function openStore() {
  const store = new SessionStore(fakePlan());
  store.openJob({ name: 'bust.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('bust.stl') }, fakePlan());
  const answerNow = () => store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision));
  answerNow();
  return { store, answerNow, planner: new QuietPlanner() };
}

describe('SuggestionFinder', () => {
  function openFinder() {
    const all = openStore();
    const finder = new SuggestionFinder(all.store, all.planner, () => {});
    // What was open before it began to listen becomes known with the next word of the store.
    all.store.setJob(null);
    return { ...all, finder };
  }

  it('asks for the count chosen, shows what comes, and says when it is done', async () => {
    const { finder, planner } = openFinder();
    finder.setCount('all');
    void finder.start();
    const [search] = planner.searches;
    expect(search.counts).toEqual([2, 3, 4]);
    search.progress?.(0.3, 'cutting');
    expect(finder.state.job).toEqual({ fraction: 0.3, phase: 'cutting' });
    search.bring([proposal(1, 0)]);
    expect(finder.state.suggestions).toHaveLength(1);
    expect(finder.state.isDone).toBe(false);
    search.end();
    await settle();
    expect(finder.state).toMatchObject({ job: null, isDone: true, problem: null });
  });

  it('keeps showing the same proposal when a better one comes before it', () => {
    const { finder, planner } = openFinder();
    void finder.start();
    planner.searches[0].bring([proposal(1, 0)]);
    finder.show(0);
    planner.searches[0].bring([proposal(1, 4), proposal(2, 0)]);
    expect(finder.state.shown).toBe(1);
    planner.searches[0].bring([proposal(1, 4)]);
    expect(finder.state.shown).toBeNull();
    finder.show(7);
    expect(finder.state.shown).toBeNull();
  });

  it('holds one on the mould while others are glanced at', () => {
    const { finder, planner } = openFinder();
    void finder.start();
    planner.searches[0].bring([proposal(1, 0), proposal(2, 4)]);
    finder.hold(1);
    finder.show(0);
    expect(finder.state).toMatchObject({ shown: 0, held: 1 });
    finder.show(null);
    expect(finder.state).toMatchObject({ shown: 1, held: 1 });
    planner.searches[0].bring([proposal(1, 4), proposal(2, 0)]);
    expect(finder.state).toMatchObject({ shown: 0, held: 0 });
    finder.hold(null);
    expect(finder.state).toMatchObject({ shown: null, held: null });
  });

  it('a newer search takes the place of one under way, whose words are no longer heard', async () => {
    const { finder, planner } = openFinder();
    void finder.start();
    void finder.start();
    const [first, second] = planner.searches;
    expect(first.signal?.aborted).toBe(true);
    first.bring([proposal(1, 0)]);
    await settle();
    expect(finder.state.suggestions).toEqual([]);
    expect(finder.state.job).not.toBeNull();
    second.bring([proposal(1, 1)]);
    expect(finder.state.suggestions).toHaveLength(1);
  });

  it('stopped: what has come stays and nothing is called wrong', async () => {
    const { finder, planner } = openFinder();
    void finder.start();
    planner.searches[0].bring([proposal(1, 0)]);
    finder.stop();
    await settle();
    expect(planner.searches[0].signal?.aborted).toBe(true);
    expect(finder.state).toMatchObject({ job: null, isDone: false, problem: null });
    expect(finder.state.suggestions).toHaveLength(1);
  });

  it('says why a search failed', async () => {
    const { finder, planner } = openFinder();
    void finder.start();
    planner.searches[0].fail(
      new PlannerError({ kind: 'plan', code: 'bad-plan', message: 'The scan is too thin.' }),
    );
    await settle();
    expect(finder.state).toMatchObject({ job: null, problem: 'The scan is too thin.' });
  });

  it('taking one puts its line into the plan in one step back, and stops the search', async () => {
    const { finder, planner, store } = openFinder();
    const before = store.state.plan;
    void finder.start();
    planner.searches[0].bring([proposal(1, 0), proposal(2, 3)]);
    finder.show(1);
    finder.take(1);
    expect(store.state.plan.parting.lines).toEqual(proposal(2, 3).lines);
    expect(finder.state.shown).toBeNull();
    expect(planner.searches[0].signal?.aborted).toBe(true);
    store.undo();
    expect(store.state.plan).toBe(before);
    finder.take(9);
    expect(store.state.plan).toBe(before);
  });

  it('marks proposals as outdated when what they were found from changes, and not when lines do', () => {
    const { finder, planner, store } = openFinder();
    void finder.start();
    planner.searches[0].bring([proposal(1, 0)]);
    finder.take(0);
    expect(finder.state.isOutdated).toBe(false);
    store.edit(addNotHere([0, 0, 30]));
    expect(finder.state.isOutdated).toBe(true);
    store.undo();
    expect(finder.state.isOutdated).toBe(false);
    store.edit(setCoatThickness(0, 7));
    expect(finder.state.isOutdated).toBe(true);
  });

  it('forgets everything with another scan', () => {
    const { finder, planner, store } = openFinder();
    void finder.start();
    planner.searches[0].bring([proposal(1, 0)]);
    store.openJob({ name: 'b.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('b.stl') }, fakePlan());
    expect(finder.state).toMatchObject({ suggestions: [], job: null, isOutdated: false });
    expect(planner.searches[0].signal?.aborted).toBe(true);
  });
});

describe('PullCharter', () => {
  function openCharter() {
    const all = openStore();
    const charter = new PullCharter(all.store, all.planner, () => {});
    all.store.setJob(null);
    return { ...all, charter };
  }

  it('asks once for an answer, and again for the next', async () => {
    const { charter, planner, store, answerNow } = openCharter();
    expect(planner.chartings).toHaveLength(1);
    expect(charter.state.isUnderWay).toBe(true);
    planner.chartings[0].resolve(chartOf('mould'));
    await settle();
    expect(charter.state).toMatchObject({ isOld: false, isUnderWay: false });
    expect(charter.state.chart?.of).toBe('mould');
    store.setJob(null);
    expect(planner.chartings).toHaveLength(1);
    store.edit(setCoatThickness(0, 7));
    expect(charter.state.isOld).toBe(true);
    expect(planner.chartings).toHaveLength(1);
    answerNow();
    expect(planner.chartings).toHaveLength(2);
    planner.chartings[1].resolve(chartOf('mould'));
    await settle();
    expect(charter.state.isOld).toBe(false);
  });

  it('waits while the numbers are worked out, while they are rough, and on other stages', () => {
    const { planner, store, answerNow } = openCharter();
    const asked = () => planner.chartings.length;
    store.setPrefs({ stage: 'coats' });
    store.edit(setCoatThickness(0, 7));
    answerNow();
    expect(asked()).toBe(1);
    store.setJob({ fraction: 0.5, phase: 'refining' });
    store.setPrefs({ stage: 'parting' });
    expect(asked()).toBe(1);
    store.setJob(null);
    expect(asked()).toBe(2);
    store.edit(setCoatThickness(0, 8));
    store.takeAnswer(fakeAnswer(store.state.plan, store.state.revision, false));
    expect(asked()).toBe(2);
  });

  it('breaks a chart off when the plan changes, so that the worker is free', async () => {
    const { charter, planner, store } = openCharter();
    store.edit(setCoatThickness(0, 7));
    expect(planner.chartings[0].signal?.aborted).toBe(true);
    await settle();
    expect(charter.state).toMatchObject({ isUnderWay: false, problem: null, chart: null });
  });

  it('charts a piece when asked, and the mould again when that piece is gone', () => {
    const { charter, planner, store } = openCharter();
    charter.choose(1);
    expect(planner.chartings.at(-1)?.of).toBe(1);
    store.openJob({ name: 'b.stl', bytes: new ArrayBuffer(0), opened: fakeOpened('b.stl') }, fakePlan());
    expect(charter.state).toMatchObject({ of: 'mould', chart: null });
  });

  it('says why a chart failed', async () => {
    const { charter, planner } = openCharter();
    planner.chartings[0].fail(
      new PlannerError({ kind: 'plan', code: 'bad-plan', message: 'There is no rubber.' }),
    );
    await settle();
    expect(charter.state).toMatchObject({ isUnderWay: false, problem: 'There is no rubber.' });
  });
});

describe('marking on the rubber', () => {
  async function openWorkshop() {
    const workshop = new Workshop(new QuietPlanner(), new MemoryBrowser().openTab(), null);
    await workshop.openScan('bust.stl', new ArrayBuffer(4), null);
    return workshop;
  }

  it('an area to avoid and one to keep clear go to their own lists, each by one touch', async () => {
    const workshop = await openWorkshop();
    const { drafter, painter } = workshop;
    drafter.startAvoiding();
    drafter.addPoint([1, 2, 3]);
    expect(drafter.state.mode).toBe('look');
    expect(workshop.store.state.plan.parting.notHere).toEqual([
      { name: 'Not here 1', dabsMm: [[1, 2, 3]], radiusMm: FIRST_AVOID_RADIUS_MM },
    ]);
    painter.take('paint');
    painter.strokeTo([4, 5, 6]);
    expect(workshop.store.state.plan.scan.keepClear).toEqual([]);
    painter.lift(true);
    expect(workshop.store.state.plan.scan.keepClear.map((area) => area.dabsMm)).toEqual([[[4, 5, 6]]]);
    expect(workshop.store.state.plan.parting.notHere).toHaveLength(1);
    workshop.dispose();
  });
});
