import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { SnappedPoint, SnapTo } from '../core/parting/draw/SnappedPoint.ts';
import type { PullChart } from '../core/parting/pulls/PullChart.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { JobInput, JobOutput, ToPage, ToWorker, WorkerAnswer } from './messages.ts';
import {
  type BundleParts,
  type DrawnSides,
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
  onmessage: ((event: MessageEvent<ToPage>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

/** A planner over a worker of its own. */
export function createPlanner(): Planner {
  return new WorkerPlanner(
    () =>
      new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name: 'scute' }) as WorkerLike,
  );
}

/**
 * Sends jobs to a worker and gives their answers back as promises. A worker that dies is replaced, the scan that was open
 * is sent to the new one before its next job, and what was under way rejects as 'worker-lost': nothing of the plan, which
 * lives in the page, is lost.
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

  constructor(private readonly startWorker: () => WorkerLike) {}

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
    this.worker?.terminate();
    this.worker = undefined;
    this.failAll(new DOMException('The planner was closed.', 'AbortError'));
  }

  private run(input: JobInput, options: JobOptions, listeners: JobListeners = {}): Promise<JobOutput> {
    const { signal } = options;
    if (signal?.aborted) return Promise.reject(signal.reason);
    const worker = this.worker ?? this.start();
    const id = this.nextId++;
    return new Promise<JobOutput>((resolve, reject) => {
      const cancel = (): void => {
        if (this.jobs.delete(id)) worker.postMessage({ kind: 'cancel', id });
        reject(signal?.reason);
      };
      signal?.addEventListener('abort', cancel, { once: true });
      const settle =
        <T>(done: (value: T) => void) =>
        (value: T): void => {
          signal?.removeEventListener('abort', cancel);
          done(value);
        };
      this.jobs.set(id, {
        resolve: settle(resolve),
        reject: settle(reject),
        progress: options.progress,
        listeners,
      });
      worker.postMessage({ kind: 'job', id, input });
    });
  }

  private start(): WorkerLike {
    const worker = this.startWorker();
    this.worker = worker;
    worker.onmessage = (event) => this.receive(event.data);
    worker.onerror = (event) => {
      event.preventDefault?.();
      this.lose(event.message || 'it stopped without a word');
    };
    if (this.opened) {
      // No job waits for this: it only puts the scan back where it was.
      worker.postMessage({ kind: 'job', id: this.nextId++, input: { kind: 'open', ...this.opened } });
    }
    return worker;
  }

  private receive(message: ToPage): void {
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
        this.jobs.delete(message.id);
        job.resolve(message.output);
        return;
      case 'failed':
        this.jobs.delete(message.id);
        job.reject(new PlannerError(message.failure));
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

  /** The worker died: out of memory, killed, or a script that would not load. */
  private lose(why: string): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.failAll(
      new PlannerError({
        kind: 'worker-lost',
        code: 'worker-lost',
        message: `The calculation stopped (${why}). Your plan is kept; change something or choose a coarser resolution to start it again.`,
      }),
    );
  }

  private failAll(reason: unknown): void {
    const waiting = [...this.jobs.values()];
    this.jobs.clear();
    for (const job of waiting) job.reject(reason);
  }
}

function expectKind<K extends JobOutput['kind']>(
  output: JobOutput,
  kind: K,
): Extract<JobOutput, { kind: K }> {
  if (output.kind !== kind) throw new Error(`The worker answered ${output.kind} where ${kind} was asked.`);
  return output as Extract<JobOutput, { kind: K }>;
}
