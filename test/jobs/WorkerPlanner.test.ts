import { afterEach, describe, expect, it, vi } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { SILENCE_MS, type WorkerLike, WorkerPlanner } from '../../src/jobs/client.ts';
import { describeFailure } from '../../src/jobs/describeFailure.ts';
import { JobTable } from '../../src/jobs/JobTable.ts';
import type { FromWorker, ToWorker } from '../../src/jobs/messages.ts';
import { type PlanAnswer, PlannerError } from '../../src/jobs/protocol.ts';
import { transferablesOf } from '../../src/jobs/transferablesOf.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

const STL = writeStl(openHalfSphere(20, 8)).buffer;
const plan = (coatsMm: readonly number[] = [2, 3]): PlanDocument => ({
  ...shapePlan({ coatsMm, scan: { board: 0 }, parting: { pieceCount: 2, pullAzimuthsDeg: [30] } }),
  resolutionMm: 1.5,
});

/** Stands in for a worker: what was posted is kept, answers are given by hand. */
class FakeWorker implements WorkerLike {
  readonly posted: ToWorker[] = [];
  isEnded = false;
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  onmessageerror: WorkerLike['onmessageerror'] = null;
  /** Ends it without a word, as the system does; told to nobody but by its lock. */
  vanish = (): void => {};
  ended = (): Promise<void> =>
    new Promise((resolve) => {
      this.vanish = resolve;
    });
  postMessage(message: ToWorker): void {
    this.posted.push(message);
  }
  terminate(): void {
    this.isEnded = true;
  }
  say(message: FromWorker): void {
    this.onmessage?.({ data: message } as MessageEvent<FromWorker>);
  }
  die(message: string): void {
    this.onerror?.({ message } as ErrorEvent);
  }
  jobs(kind: string): { readonly id: number }[] {
    return this.posted.filter((m) => m.kind === 'job' && m.input.kind === kind);
  }
}

/** A worker in this very thread: a job table behind messages that are copied and come later, as between threads. */
class ThreadlessWorker extends FakeWorker {
  private readonly table = new JobTable((message) => {
    const copy = structuredClone(message, { transfer: transferablesOf(message) });
    setTimeout(() => {
      if (!this.isEnded) this.say(copy);
    }, 0);
  });
  override postMessage(message: ToWorker): void {
    super.postMessage(message);
    const copy = structuredClone(message);
    setTimeout(() => this.table.receive(copy), 0);
  }
}

function planner<W extends FakeWorker>(make: () => W): { planner: WorkerPlanner; workers: W[] } {
  const workers: W[] = [];
  return {
    workers,
    planner: new WorkerPlanner(() => {
      const worker = make();
      workers.push(worker);
      return worker;
    }),
  };
}

const OPENED = {
  kind: 'opened',
  scan: { name: 'half.stl', triangles: 1, vertices: 3, size: [1, 1, 1], notes: [] },
} as const;

describe('WorkerPlanner', () => {
  it('the newest plan wins: the one before rejects with AbortError and is cancelled in the worker', async () => {
    const { planner: p, workers } = planner(() => new FakeWorker());
    const answers: number[] = [];
    const onAnswer = (answer: PlanAnswer): number => answers.push(answer.revision);
    const first = p.plan(plan(), 1, { onAnswer });
    const second = p.plan(plan(), 2, { onAnswer });
    await expect(first).rejects.toMatchObject({ name: 'AbortError' });
    const [worker] = workers;
    const [a, b] = worker.jobs('plan');
    expect(worker.posted).toContainEqual({ kind: 'cancel', id: a.id });
    // What the first still had to say is not heard.
    worker.say({ kind: 'done', id: a.id, output: { kind: 'planned' } });
    worker.say({ kind: 'done', id: b.id, output: { kind: 'planned' } });
    await second;
    expect(answers).toEqual([]);
    expect(workers).toHaveLength(1);
  });

  it('progress and failure reach the one who asked', async () => {
    const { planner: p, workers } = planner(() => new FakeWorker());
    const told: [number, string][] = [];
    const opening = p.open('x.stl', STL, { progress: (fraction, phase) => told.push([fraction, phase]) });
    const [job] = workers[0].jobs('open');
    workers[0].say({ kind: 'progress', id: job.id, fraction: 0.5, phase: 'reading the file' });
    const failure = { kind: 'mesh', code: 'truncated', message: 'It ends too soon.' } as const;
    workers[0].say({ kind: 'failed', id: job.id, failure });
    await expect(opening).rejects.toBeInstanceOf(PlannerError);
    await expect(opening).rejects.toMatchObject({ failure });
    expect(told).toEqual([[0.5, 'reading the file']]);
  });

  it('a signal of the caller’s own cancels', async () => {
    const { planner: p, workers } = planner(() => new FakeWorker());
    const abort = new AbortController();
    const path = p.path([], false, { signal: abort.signal });
    const [job] = workers[0].jobs('path');
    abort.abort();
    await expect(path).rejects.toMatchObject({ name: 'AbortError' });
    expect(workers[0].posted).toContainEqual({ kind: 'cancel', id: job.id });
    await expect(p.path([], false, { signal: abort.signal })).rejects.toMatchObject({ name: 'AbortError' });
    expect(workers[0].jobs('path')).toHaveLength(1);
  });

  it('a worker that dies: what was under way rejects as worker-lost, the next job finds the scan open again', async () => {
    const { planner: p, workers } = planner(() => new FakeWorker());
    const opening = p.open('half.stl', STL);
    workers[0].say({ kind: 'done', id: workers[0].jobs('open')[0].id, output: OPENED });
    await opening;
    const planning = p.plan(plan(), 1, { onAnswer: () => {} });
    workers[0].die('out of memory');
    await expect(planning).rejects.toMatchObject({ failure: { kind: 'worker-lost' } });
    await expect(planning).rejects.toThrow('out of memory');
    expect(workers[0].isEnded).toBe(true);
    const again = p.plan(plan(), 2, { onAnswer: () => {} });
    expect(workers).toHaveLength(2);
    expect(workers[1].posted.map((m) => (m.kind === 'job' ? m.input.kind : m.kind))).toEqual([
      'open',
      'plan',
    ]);
    expect(workers[1].posted[0]).toMatchObject({ input: { name: 'half.stl', bytes: STL } });
    workers[1].say({ kind: 'done', id: workers[1].jobs('plan')[0].id, output: { kind: 'planned' } });
    await again;
  });

  it('a file that could not be read is not what a new worker is given', async () => {
    const { planner: p, workers } = planner(() => new FakeWorker());
    const good = p.open('half.stl', STL);
    workers[0].say({ kind: 'done', id: workers[0].jobs('open')[0].id, output: OPENED });
    await good;
    const bad = p.open('bad.stl', new ArrayBuffer(3));
    const failure = { kind: 'mesh', code: 'truncated', message: 'No.' } as const;
    workers[0].say({ kind: 'failed', id: workers[0].jobs('open')[1].id, failure });
    await expect(bad).rejects.toBeInstanceOf(PlannerError);
    workers[0].die('');
    void p.path([], false).catch(() => {});
    expect(workers[1].posted[0]).toMatchObject({ input: { kind: 'open', name: 'half.stl' } });
    p.dispose();
    expect(workers[1].isEnded).toBe(true);
  });

  it('closing rejects what is under way', async () => {
    const { planner: p } = planner(() => new FakeWorker());
    const path = p.path([], false);
    p.dispose();
    await expect(path).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('a worker that is lost', () => {
  afterEach(() => vi.useRealTimers());

  /** The scan is open, a plan under way. */
  async function openPlanning() {
    const all = planner(() => new FakeWorker());
    const { planner: p, workers } = all;
    const opening = p.open('half.stl', STL);
    const [worker] = workers;
    worker.say({ kind: 'up' });
    worker.say({ kind: 'done', id: worker.jobs('open')[0].id, output: OPENED });
    await opening;
    const planning = p.plan(plan(), 1, { onAnswer: () => {} });
    planning.catch(() => {});
    const lost: string[] = [];
    p.listenLost(({ message }) => lost.push(message));
    return { ...all, worker, planning, lost };
  }

  it.each([
    ['an error event', (w: FakeWorker) => w.die('Uncaught RangeError: x'), 'Uncaught RangeError: x'],
    ['an error event without a word', (w: FakeWorker) => w.die(''), 'without a word'],
    ['its lock comes free', (w: FakeWorker) => w.vanish(), 'the browser ended it'],
    ['an answer that cannot be read', (w: FakeWorker) => w.onmessageerror?.({} as MessageEvent), 'too large'],
  ])(
    '%s: what was under way rejects, the page is told, the next one has the scan',
    async (_, kill, words) => {
      const { planner: p, workers, worker, planning, lost } = await openPlanning();
      kill(worker);
      await expect(planning).rejects.toMatchObject({ failure: { kind: 'worker-lost' } });
      await expect(planning).rejects.toThrow(words);
      expect(lost).toHaveLength(1);
      expect(worker.isEnded).toBe(true);
      void p.path([], false).catch(() => {});
      expect(workers).toHaveLength(2);
      expect(workers[1].jobs('open')).toHaveLength(1);
      // What the dead one's lock and queue still tell is not the new one's.
      worker.vanish();
      worker.die('late');
      await Promise.resolve();
      expect(workers[1].isEnded).toBe(false);
      expect(lost).toHaveLength(1);
      p.dispose();
    },
  );

  it('one that ends while nothing is asked is missed too', async () => {
    const { planner: p, worker, planning, lost } = await openPlanning();
    worker.say({ kind: 'done', id: worker.jobs('plan')[0].id, output: { kind: 'planned' } });
    await planning;
    worker.vanish();
    await Promise.resolve();
    expect(lost).toEqual(['The calculation stopped (the browser ended it). Your plan is kept.']);
    p.dispose();
  });

  it('silence is given up after its time, and no sooner; every word begins it anew; with nothing to do it may last', async () => {
    vi.useFakeTimers();
    const { planner: p, worker, planning, lost } = await openPlanning();
    const { id } = worker.jobs('plan')[0];
    await vi.advanceTimersByTimeAsync(0.95 * SILENCE_MS);
    worker.say({ kind: 'progress', id, fraction: 0.1, phase: 'working' });
    await vi.advanceTimersByTimeAsync(0.95 * SILENCE_MS);
    expect(worker.isEnded).toBe(false);
    await vi.advanceTimersByTimeAsync(0.15 * SILENCE_MS);
    await expect(planning).rejects.toThrow('no sign of life');
    expect(lost).toHaveLength(1);
    expect(worker.isEnded).toBe(true);
    await vi.advanceTimersByTimeAsync(3 * SILENCE_MS);
    expect(lost).toHaveLength(1);
    expect(vi.getTimerCount()).toBe(0);
    p.dispose();
  });

  it('a page that slept does not take its own sleep for the worker’s silence', async () => {
    vi.useFakeTimers();
    const { planner: p, worker, lost } = await openPlanning();
    // An hour passes on the clock, in which one beat only was called.
    vi.setSystemTime(Date.now() + 3_600_000);
    await vi.advanceTimersByTimeAsync(SILENCE_MS / 18);
    expect(worker.isEnded).toBe(false);
    expect(lost).toEqual([]);
    p.dispose();
    expect(vi.getTimerCount()).toBe(0);
  });

  it('no memory left inside: the one who asked is told so, and a new worker has all of it free', async () => {
    const { planner: p, worker, planning, lost } = await openPlanning();
    const other = p.path([], false);
    other.catch(() => {});
    const failure = describeFailure(new RangeError('Array buffer allocation failed'));
    worker.say({ kind: 'failed', id: worker.jobs('plan')[0].id, failure });
    await expect(planning).rejects.toMatchObject({ failure: { kind: 'out-of-memory' } });
    await expect(planning).rejects.toThrow('coarser resolution');
    await expect(other).rejects.toThrow('no memory left');
    expect(worker.isEnded).toBe(true);
    expect(lost).toHaveLength(1);
    p.dispose();
  });

  it('a scan that the new worker cannot read again: what waits behind it is told why, and the next job tries once more', async () => {
    const { planner: p, workers, worker } = await openPlanning();
    worker.die('killed');
    const again = p.plan(plan(), 2, { onAnswer: () => {} });
    const failure = describeFailure(new RangeError('Array buffer allocation failed'));
    workers[1].say({ kind: 'failed', id: workers[1].jobs('open')[0].id, failure });
    await expect(again).rejects.toMatchObject({ failure: { kind: 'out-of-memory' } });
    void p.path([], false).catch(() => {});
    expect(workers[2].jobs('open')).toHaveLength(1);
    p.dispose();
  });

  it('a browser that starts no worker, and a script that is not there: said in words', async () => {
    const none = new WorkerPlanner(() => {
      throw new DOMException('refused by policy', 'SecurityError');
    });
    await expect(none.open('half.stl', STL)).rejects.toMatchObject({ failure: { kind: 'worker-lost' } });
    await expect(none.open('half.stl', STL)).rejects.toThrow('refused by policy');
    const { planner: p, workers } = planner(() => new FakeWorker());
    const opening = p.open('half.stl', STL);
    workers[0].die('');
    await expect(opening).rejects.toThrow('could not be loaded');
  });

  it('what cannot be sent is no job: it rejects, and nothing is waited for', async () => {
    vi.useFakeTimers();
    const { planner: p } = planner(
      () =>
        new (class extends FakeWorker {
          override postMessage(): void {
            throw new DOMException('Data cannot be cloned, out of memory.', 'DataCloneError');
          }
        })(),
    );
    await expect(p.open('half.stl', STL)).rejects.toThrow('out of memory');
    expect(vi.getTimerCount()).toBe(0);
  });
});

describe('describeFailure', () => {
  it.each([
    ['Array buffer allocation failed', 'out-of-memory'],
    ['Invalid array length', 'out-of-memory'],
    ['Invalid typed array length: 6442450944', 'out-of-memory'],
    ['WebAssembly.Memory.grow(): Maximum memory size exceeded', 'out-of-memory'],
    [
      'WebAssembly.instantiate(): Out of memory: Cannot allocate Wasm memory for new instance',
      'out-of-memory',
    ],
    // Defects of ours, whatever the engine calls them.
    ['Invalid typed array length: NaN', 'internal'],
    ['Invalid typed array length: -3', 'internal'],
    ['Maximum call stack size exceeded', 'internal'],
  ])('%s: %s', (message, kind) => {
    expect(describeFailure(new RangeError(message)).kind).toBe(kind);
  });

  it('takes this engine’s own words for an array that is too large', () => {
    let thrown: unknown;
    try {
      new ArrayBuffer(2 ** 52);
    } catch (error) {
      thrown = error;
    }
    expect(describeFailure(thrown)).toMatchObject({ kind: 'out-of-memory' });
  });
});

describe('WorkerPlanner over a job table', () => {
  it('opens, plans, cuts; the caller keeps its bytes; pieces sum to the shell', async () => {
    const { planner: p } = planner(() => new ThreadlessWorker());
    const opened = await p.open('half.stl', STL);
    expect(opened.triangles).toBe(256);
    expect(STL.byteLength).toBeGreaterThan(0);
    const answers: PlanAnswer[] = [];
    await p.plan(plan(), 1, { onAnswer: (answer) => answers.push(answer) });
    const last = answers[answers.length - 1];
    expect(last.isFinal).toBe(true);
    expect(answers[0].geometry.rubber).not.toBeNull();
    const sum = last.result.pieces.reduce((total, piece) => total + piece.massG, 0);
    expect(sum).toBeCloseTo(last.result.shell.massG, 9);
    const section = await p.section({ normal: [0, 1, 0], offsetMm: 0.3 });
    expect(section.areas.length).toBeGreaterThan(1);
  });

  it('the rubber and the pieces of an answer that came too late are not lost', async () => {
    const { planner: p, workers } = planner(() => new ThreadlessWorker());
    await p.open('half.stl', STL);
    const heard: PlanAnswer[] = [];
    const first = p.plan(plan(), 1, {
      onAnswer: () => {
        throw new Error('the first answer was to be cancelled before it came');
      },
    });
    // Cancelled just as its first answer is on the way: the worker has sent the rubber, nobody waits for it.
    const [worker] = workers;
    const say = worker.say.bind(worker);
    let second: Promise<void> | undefined;
    worker.say = (message) => {
      if (message.kind === 'answer' && !second)
        second = p.plan(plan([2, 4]), 2, { onAnswer: (answer) => heard.push(answer) });
      say(message);
    };
    await expect(first).rejects.toMatchObject({ name: 'AbortError' });
    await second;
    expect(heard[0].geometry.rubber?.indices).toHaveLength(3 * 256);
    const last = heard[heard.length - 1];
    expect(last.isFinal).toBe(true);
    expect(last.result.shell.thicknessMm).toBe(6);
    // Before its first lines stand the rubber is drawn whole.
    const parted = heard.filter(({ result }) => result.partingLines.length > 0);
    expect(parted.length).toBeGreaterThan(1);
    expect(parted.every(({ geometry, result }) => geometry.pieces.length === result.pieces.length)).toBe(
      true,
    );
  });

  it('after a death the whole work goes on in a new worker', async () => {
    const { planner: p, workers } = planner(() => new ThreadlessWorker());
    await p.open('half.stl', STL);
    const planning = p.plan(plan(), 1, { onAnswer: () => {} });
    workers[0].die('killed');
    await expect(planning).rejects.toMatchObject({ failure: { kind: 'worker-lost' } });
    const answers: PlanAnswer[] = [];
    await p.plan(plan(), 2, { onAnswer: (answer) => answers.push(answer) });
    expect(answers[answers.length - 1].isFinal).toBe(true);
    expect(answers[0].geometry.rubber).not.toBeNull();
  });
});
