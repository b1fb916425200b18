/** Told how far a job is: `fraction` rises from 0 to 1, `phase` is a short present participle ("measuring the coats"). */
export type ProgressListener = (fraction: number, phase: string) => void;

/** Longest stretch of work between two looks at the clock's owner; short enough that a cancel feels immediate. */
const SLICE_MS = 24;

/**
 * Where a long computation pauses: it reports progress, lets the event loop run (so that a worker can receive a
 * cancel), and throws the signal's reason when the job was cancelled.
 *
 * Hot loops ask `due()` once per chunk of work and `await pause(fraction)` only when it says yes.
 */
export class Checkpoint {
  private lastMs = now();
  /** The farthest that was told, of the whole job: a step that is done earlier or again than its share has it does not go back. */
  private farthest = 0;

  constructor(
    private readonly listener: ProgressListener = () => {},
    private readonly signal: AbortSignal | undefined = undefined,
    private readonly from = 0,
    private readonly to = 1,
    private readonly phase = 'working',
    private readonly root: Checkpoint | undefined = undefined,
  ) {}

  /** True when the present stretch of work has lasted long enough to pause. */
  due(): boolean {
    return this.root ? this.root.due() : now() - this.lastMs > SLICE_MS;
  }

  /** Reports `fraction` (0..1 of this checkpoint's own range), yields once. Throws the abort reason when cancelled. */
  async pause(fraction: number): Promise<void> {
    const root = this.root ?? this;
    const reached = this.from + (this.to - this.from) * Math.min(1, Math.max(0, fraction));
    root.farthest = Math.max(root.farthest, reached);
    this.listener(root.farthest, this.phase);
    await yieldToEventLoop();
    this.signal?.throwIfAborted();
    root.lastMs = now();
  }

  /** A checkpoint for one phase: its 0..1 is mapped to `from..to` of this one. */
  within(from: number, to: number, phase: string): Checkpoint {
    const span = this.to - this.from;
    return new Checkpoint(
      this.listener,
      this.signal,
      this.from + span * from,
      this.from + span * to,
      phase,
      this.root ?? this,
    );
  }
}

function now(): number {
  return performance.now();
}

/** One turn of the event loop. MessageChannel is used because a nested setTimeout is held back 4 ms in pages. */
function yieldToEventLoop(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(0);
  });
}
