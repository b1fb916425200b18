import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { SnappedPoint, SnapTo } from '../core/parting/draw/SnappedPoint.ts';
import type { PullChart } from '../core/parting/pulls/PullChart.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { FromWorker, JobInput, JobOutput, ToPage, ToWorker, WorkerAnswer } from './messages.ts';
import {
  type BundleParts,
  type DrawnSides,
  type JobFailure,
  type JobOptions,
  type LinePicture,
  type MapAsk,
  type MapPicture,
  type OpenedScan,
  type PlanAnswer,
  type PlanGeometry,
  type Planner,
  PlannerError,
  type RubberPicture,
  type SectionPicture,
  type SectionPlane,
} from './protocol.ts';

interface OpenJob {
  readonly resolve: (output: JobOutput) => void;
  readonly reject: (reason: unknown) => void;
  readonly progress: JobOptions['progress'];
  readonly listeners: JobListeners;
}

/** Who hears what a job sends before it is done. */
interface JobListeners {
  readonly onAnswer?: (answer: PlanAnswer) => void;
  readonly onSuggestions?: (suggestions: readonly Suggestion[]) => void;
}

/** What the page needs of a worker; a test can stand in for it. */
export interface WorkerLike {
  postMessage(message: ToWorker, transfer?: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
  /** Settles when a worker that has said 'up' is no more, however it ended. Left out where that cannot be told. */
  ended?(): Promise<void>;
}

/**
 * A worker with jobs to do that says nothing for so long is given up, ms. Only the last resort, for a browser without locks
 * or a job that was cut off inside: the longest stretch without a word was 7 s with a million triangles on two busy cores, and a
 * slow tablet may take several times that.
 */
export const SILENCE_MS = 90_000;

/** Silence is counted in beats of the page's own clock, so that neither its sleep nor a long task of its own counts as the worker's. */
const BEATS = 18;

/** A planner over a worker of its own. */
export function createPlanner(): Planner {
  return new WorkerPlanner(startWorker);
}

let startedCount = 0;

/** Under a name that no other worker has, in this tab or another: its lock bears it. */
function startWorker(): WorkerLike {
  startedCount++;
  const name = `scute ${performance.timeOrigin} ${Math.random()} ${startedCount}`;
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name });
  return Object.assign(worker as WorkerLike, {
    ended: async () => {
      await navigator.locks.request(name, () => {});
    },
  });
}

/**
 * Sends jobs to a worker and gives their answers back as promises. A worker that dies, falls silent or runs out of memory
 * is replaced; the scan that was open is sent to the new one before its next job, and what was under way rejects as
 * 'worker-lost': nothing of the plan, which lives in the page, is lost.
 */
export class WorkerPlanner implements Planner {
  private worker: WorkerLike | undefined;
  private readonly jobs = new Map<number, OpenJob>();
  private nextId = 1;
  private opened: { readonly name: string; readonly bytes: ArrayBuffer } | undefined;
  private planAbort: AbortController | undefined;
  private suggestAbort: AbortController | undefined;
  private undelivered: RubberPicture | null = null;
  private delivered: PlanGeometry | null = null;
  private readonly lostListeners = new Set<(why: JobFailure) => void>();
  /** The worker has said something at all: its script was there. */
  private hasSpoken = false;
  private beat: ReturnType<typeof setInterval> | null = null;
  private silentBeats = 0;

  constructor(
    private readonly startWorker: () => WorkerLike,
    private readonly silenceMs = SILENCE_MS,
  ) {}

  listenLost(listener: (why: JobFailure) => void): () => void {
    this.lostListeners.add(listener);
    return () => this.lostListeners.delete(listener);
  }

  async open(name: string, bytes: ArrayBuffer, options: JobOptions = {}): Promise<OpenedScan> {
    const output = await this.run({ kind: 'open', name, bytes }, options);
    // Only a file that could be read becomes the one that a new worker is given.
    this.opened = { name, bytes };
    this.delivered = null;
    return expectKind(output, 'opened').scan;
  }

  async plan(
    plan: PlanDocument,
    revision: number,
    options: JobOptions & { onAnswer: (answer: PlanAnswer) => void },
  ): Promise<void> {
    this.planAbort?.abort(new DOMException('A newer plan took its place.', 'AbortError'));
    const abort = new AbortController();
    this.planAbort = abort;
    const signal = options.signal ? AbortSignal.any([options.signal, abort.signal]) : abort.signal;
    await this.run({ kind: 'plan', plan, revision }, { ...options, signal }, { onAnswer: options.onAnswer });
  }

  async path(points: readonly Vec3[], closed: boolean, options: JobOptions = {}): Promise<LinePicture> {
    return expectKind(await this.run({ kind: 'path', points, closed }, options), 'path').line;
  }

  async section(plane: SectionPlane, options: JobOptions = {}): Promise<SectionPicture> {
    return expectKind(await this.run({ kind: 'section', plane }, options), 'section').picture;
  }

  async chart(of: PullChart['of'], options: JobOptions = {}): Promise<PullChart> {
    return expectKind(await this.run({ kind: 'chart', of }, options), 'chart').chart;
  }

  async suggest(
    plan: PlanDocument,
    pieceCounts: readonly number[],
    options: JobOptions & { onSuggestions: (suggestions: readonly Suggestion[]) => void },
  ): Promise<void> {
    this.suggestAbort?.abort(new DOMException('A newer search took its place.', 'AbortError'));
    const abort = new AbortController();
    this.suggestAbort = abort;
    const signal = options.signal ? AbortSignal.any([options.signal, abort.signal]) : abort.signal;
    const { onSuggestions } = options;
    await this.run({ kind: 'suggest', plan, pieceCounts }, { ...options, signal }, { onSuggestions });
  }

  async snap(
    point: Vec3,
    to: readonly SnapTo[],
    reachMm: number,
    options: JobOptions = {},
  ): Promise<SnappedPoint> {
    return expectKind(await this.run({ kind: 'snap', point, to, reachMm }, options), 'snap').snapped;
  }

  async smooth(points: readonly Vec3[], closed: boolean, options: JobOptions = {}): Promise<readonly Vec3[]> {
    return expectKind(await this.run({ kind: 'smooth', points, closed }, options), 'smooth').points;
  }

  async map(ask: MapAsk, options: JobOptions = {}): Promise<MapPicture> {
    return expectKind(await this.run({ kind: 'map', ask }, options), 'map').picture;
  }

  async sides(widthPx: number, options: JobOptions = {}): Promise<DrawnSides> {
    return expectKind(await this.run({ kind: 'sides', widthPx }, options), 'sides').drawn;
  }

  async bundle(parts: BundleParts, options: JobOptions = {}): Promise<ArrayBuffer> {
    return expectKind(await this.run({ kind: 'bundle', parts }, options), 'bundle').bytes;
  }

  async unbundle(name: string, bytes: ArrayBuffer, options: JobOptions = {}): Promise<BundleParts> {
    return expectKind(await this.run({ kind: 'unbundle', name, bytes }, options), 'unbundle').parts;
  }

  dispose(): void {
    this.endWorker();
    this.failAll(new DOMException('The planner was closed.', 'AbortError'));
  }

  private run(input: JobInput, options: JobOptions, listeners: JobListeners = {}): Promise<JobOutput> {
    const { signal } = options;
    if (signal?.aborted) return Promise.reject(signal.reason);
    return new Promise<JobOutput>((resolve, reject) => {
      const worker = this.worker ?? this.start();
      const id = this.nextId++;
      const cancel = (): void => {
        if (this.drop(id)) worker.postMessage({ kind: 'cancel', id });
        reject(signal?.reason);
      };
      const settle =
        <T>(done: (value: T) => void) =>
        (value: T): void => {
          signal?.removeEventListener('abort', cancel);
          done(value);
        };
      // First, since what cannot be sent is no job.
      worker.postMessage({ kind: 'job', id, input });
      signal?.addEventListener('abort', cancel, { once: true });
      this.expect(id, {
        resolve: settle(resolve),
        reject: settle(reject),
        progress: options.progress,
        listeners,
      });
    });
  }

  /** Throws PlannerError 'worker-lost' where the browser starts none. */
  private start(): WorkerLike {
    let worker: WorkerLike;
    try {
      worker = this.startWorker();
    } catch (error) {
      const what = error instanceof Error ? error.message : String(error);
      throw new PlannerError(lostBy(`the browser does not start it: ${what}`));
    }
    this.worker = worker;
    this.hasSpoken = false;
    worker.onmessage = (event) => this.receive(worker, event.data);
    worker.onerror = (event) => {
      event.preventDefault?.();
      this.lose(worker, event.message || (this.hasSpoken ? 'it stopped without a word' : NOT_LOADED));
    };
    worker.onmessageerror = () =>
      this.lose(worker, 'an answer could not be taken in; it may be too large for the memory');
    if (this.opened) this.reopen(worker, this.opened);
    return worker;
  }

  /** Puts the scan back where it was. Where that fails, no job that waits behind it can come to anything. */
  private reopen(worker: WorkerLike, opened: { readonly name: string; readonly bytes: ArrayBuffer }): void {
    const id = this.nextId++;
    worker.postMessage({ kind: 'job', id, input: { kind: 'open', ...opened } });
    this.expect(id, {
      resolve: () => {},
      reject: (reason) => {
        if (worker !== this.worker) return;
        this.endWorker();
        this.failAll(reason);
      },
      progress: undefined,
      listeners: {},
    });
  }

  private expect(id: number, job: OpenJob): void {
    this.jobs.set(id, job);
    this.silentBeats = 0;
    this.beat ??= setInterval(() => this.countSilence(), this.silenceMs / BEATS);
  }

  /** False when it was over already. */
  private drop(id: number): boolean {
    const wasOpen = this.jobs.delete(id);
    if (this.jobs.size === 0) this.stopBeat();
    return wasOpen;
  }

  private countSilence(): void {
    this.silentBeats++;
    const { worker } = this;
    if (worker && this.silentBeats > BEATS) this.lose(worker, 'it gave no sign of life');
  }

  private stopBeat(): void {
    if (this.beat !== null) clearInterval(this.beat);
    this.beat = null;
  }

  private receive(worker: WorkerLike, message: FromWorker): void {
    this.hasSpoken = true;
    this.silentBeats = 0;
    if (message.kind === 'up') {
      worker.ended?.().then(
        () => this.lose(worker, 'the browser ended it'),
        // Then silence has to tell.
        () => {},
      );
      return;
    }
    const job = this.jobs.get(message.id);
    if (!job) {
      this.keepDrawn(message);
      return;
    }
    switch (message.kind) {
      case 'progress':
        job.progress?.(message.fraction, message.phase);
        return;
      case 'answer': {
        const answer = this.complete(message.answer);
        if (answer) job.listeners.onAnswer?.(answer);
        return;
      }
      case 'suggestions':
        job.listeners.onSuggestions?.(message.suggestions);
        return;
      case 'done':
        this.drop(message.id);
        job.resolve(message.output);
        return;
      case 'failed':
        this.drop(message.id);
        job.reject(new PlannerError(message.failure));
        // What it holds is what there is no room beside: only a new one has it free again.
        if (message.failure.kind === 'out-of-memory') this.lose(worker, 'there was no memory left');
        return;
    }
  }

  /** What the worker takes for known from an answer that nobody waited for any more: rubber once sent, pieces as drawn. */
  private keepDrawn(message: ToPage): void {
    if (message.kind !== 'answer' || message.answer.geometry === null) return;
    const { geometry } = message.answer;
    this.undelivered = geometry.rubber ?? this.undelivered;
    this.delivered = { ...geometry, rubber: null };
  }

  /** The answer with what the worker left out as known. Null: numbers ahead of a picture that the page never had. */
  private complete(answer: WorkerAnswer): PlanAnswer | null {
    const drawn = answer.geometry ?? this.delivered;
    if (drawn === null) return null;
    const geometry = { ...drawn, rubber: answer.geometry?.rubber ?? this.undelivered };
    this.undelivered = null;
    this.delivered = { ...geometry, rubber: null };
    return { ...answer, geometry };
  }

  /** The worker died, or is given up: out of memory, killed, silent, or a script that would not load. */
  private lose(worker: WorkerLike, why: string): void {
    // One that was given up already may still have its end told.
    if (worker !== this.worker) return;
    this.endWorker();
    const failure = lostBy(why);
    this.failAll(new PlannerError(failure));
    for (const listener of [...this.lostListeners]) listener(failure);
  }

  private endWorker(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.stopBeat();
    // The next one draws everything anew.
    this.undelivered = null;
    this.delivered = null;
  }

  private failAll(reason: unknown): void {
    const waiting = [...this.jobs.values()];
    this.jobs.clear();
    this.stopBeat();
    for (const job of waiting) job.reject(reason);
  }
}

const NOT_LOADED = 'its program could not be loaded; look whether the network is there, or reload the page';

function lostBy(why: string): JobFailure {
  return {
    kind: 'worker-lost',
    code: 'worker-lost',
    message: `The calculation stopped (${why}). Your plan is kept.`,
  };
}

function expectKind<K extends JobOutput['kind']>(
  output: JobOutput,
  kind: K,
): Extract<JobOutput, { kind: K }> {
  if (output.kind !== kind) throw new Error(`The worker answered ${output.kind} where ${kind} was asked.`);
  return output as Extract<JobOutput, { kind: K }>;
}
