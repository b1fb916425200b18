import type { JobFailure, Planner } from '../../jobs/protocol.ts';
import type { SessionState, SessionStore } from '../../session/SessionStore.ts';
import { failureOf, isAbort } from './failureOf.ts';

/** During a drag a job that has not yet answered may go on this long before the newest step takes its place, ms. */
const DRAG_PATIENCE_MS = 400;

/** Revisions start at 1. */
const NOTHING_ASKED = 0;

/**
 * Keeps the answer in step with the plan: asks at every revision, newest wins, one job at a time. When the worker is lost, the
 * plan is worked out once more by itself, so that lines and cuts can be asked for again; a plan over which it is lost a second
 * time waits to be asked for.
 */
export class PlanRunner {
  private askedRevision = NOTHING_ASKED;
  private abort: AbortController | null = null;
  private startedMs = 0;
  private hasAnswered = true;
  private retry: ReturnType<typeof setTimeout> | null = null;
  private isHeld = false;
  /** The revision that was begun again by itself. */
  private restarted = NOTHING_ASKED;
  private readonly stops: (() => void)[];

  constructor(
    private readonly store: SessionStore,
    private readonly planner: Planner,
  ) {
    this.stops = [store.subscribe((state) => this.follow(state))];
    const stop = planner.listenLost?.((why) => this.heedLoss(why));
    if (stop) this.stops.push(stop);
  }

  /** While a file is being read nothing is planned; what was broken off for it is asked for again afterwards. */
  hold(isHeld: boolean): void {
    this.isHeld = isHeld;
    if (isHeld && this.abort !== null) {
      this.abort.abort();
      this.abort = null;
      this.askedRevision = NOTHING_ASKED;
    }
    if (!isHeld) this.follow(this.store.state);
  }

  /** Stops the job under way; the page says that the numbers are of an earlier plan. */
  cancel(): void {
    this.abort?.abort();
    this.abort = null;
    if (this.retry !== null) clearTimeout(this.retry);
    this.retry = null;
    this.askedRevision = this.store.state.revision;
    this.store.setJob(null);
    this.store.setFailure({
      kind: 'plan',
      code: 'stopped',
      message: this.store.state.answer
        ? 'The numbers in sight answer an earlier plan.'
        : 'There are no numbers for this scan yet.',
    });
  }

  dispose(): void {
    for (const stop of this.stops) stop();
    if (this.retry !== null) clearTimeout(this.retry);
    this.abort?.abort();
  }

  private follow(state: SessionState): void {
    if (this.isHeld || state.scan === null || state.revision === this.askedRevision) return;
    const isBusy = this.abort !== null && !this.hasAnswered;
    const leftMs = this.startedMs + DRAG_PATIENCE_MS - performance.now();
    if (isBusy && leftMs > 0 && this.store.isGestureOn) {
      this.retry ??= setTimeout(() => {
        this.retry = null;
        this.follow(this.store.state);
      }, leftMs);
      return;
    }
    void this.run(state);
  }

  private async run(state: SessionState): Promise<void> {
    if (this.retry !== null) clearTimeout(this.retry);
    this.retry = null;
    this.abort?.abort();
    const abort = new AbortController();
    const { revision, plan } = state;
    this.abort = abort;
    this.askedRevision = revision;
    this.startedMs = performance.now();
    this.hasAnswered = false;
    const isCurrent = () => this.abort === abort;
    this.store.setJob({ fraction: 0, phase: 'starting' });
    try {
      await this.planner.plan(plan, revision, {
        signal: abort.signal,
        progress: (fraction, phase) => {
          if (isCurrent()) this.store.setJob({ fraction, phase });
        },
        onAnswer: (answer) => {
          if (!isCurrent()) return;
          this.hasAnswered = true;
          this.store.takeAnswer(answer);
          this.follow(this.store.state);
        },
      });
      if (isCurrent()) this.finish();
    } catch (error) {
      if (!isCurrent()) return;
      this.finish();
      const failure = failureOf(error);
      if (failure.kind === 'worker-lost') this.restart(failure);
      else if (!isAbort(error)) this.store.setFailure(failure);
    }
  }

  /** A plan under way hears of the loss itself; one that was stopped is not begun again. */
  private heedLoss(why: JobFailure): void {
    const { scan, failure } = this.store.state;
    if (this.abort === null && scan !== null && failure?.code !== 'stopped') this.restart(why);
  }

  private restart(why: JobFailure): void {
    const { revision } = this.store.state;
    if (this.restarted === revision) {
      const message = `${why.message} Ask for it again, or choose a coarser resolution.`;
      this.store.setFailure({ ...why, message });
      return;
    }
    this.restarted = revision;
    this.askedRevision = NOTHING_ASKED;
    this.store.notify('worker', 'problem', `${why.message} The calculation was begun again.`);
    this.follow(this.store.state);
  }

  private finish(): void {
    this.abort = null;
    this.hasAnswered = true;
    this.store.setJob(null);
    this.follow(this.store.state);
  }
}
