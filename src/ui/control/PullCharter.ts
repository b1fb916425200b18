import type { PullChart } from '../../core/parting/pulls/PullChart.ts';
import type { Planner } from '../../jobs/protocol.ts';
import {
  isStale,
  type LoadedScan,
  type SessionState,
  type SessionStore,
} from '../../session/SessionStore.ts';
import { failureOf, isAbort } from './failureOf.ts';

export interface CharterState {
  /** The whole mould (a pair of opposite pulls), or the index of a piece. */
  readonly of: PullChart['of'];
  /** Null until the first has come for `of`. */
  readonly chart: PullChart | null;
  /** True when the chart in sight is of an earlier plan. */
  readonly isOld: boolean;
  readonly isUnderWay: boolean;
  readonly problem: string | null;
}

const NO_CHART = { chart: null, isOld: false, isUnderWay: false, problem: null } as const;

/**
 * Keeps the chart of pulls in step with what was chosen and with the newest answer. It is asked for on its stage alone and
 * only when the worker has nothing better to do, so that it never stands before the numbers.
 */
export class PullCharter {
  private current: CharterState = { ...NO_CHART, of: 'mould' };
  private abort: AbortController | null = null;
  private scan: LoadedScan | null = null;
  private asked = '';
  private readonly unsubscribe: () => void;

  constructor(
    private readonly store: SessionStore,
    private readonly planner: Planner,
    private readonly changed: () => void,
  ) {
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  get state(): CharterState {
    return this.current;
  }

  /** Chooses what the chart is of. */
  choose(of: PullChart['of']): void {
    if (of === this.current.of) return;
    this.drop();
    this.put({ ...NO_CHART, of });
    this.follow(this.store.state);
  }

  dispose(): void {
    this.unsubscribe();
    this.abort?.abort();
  }

  private follow(state: SessionState): void {
    const { answer, scan, prefs, job } = state;
    const { of } = this.current;
    const isGone = typeof of === 'number' && answer !== null && of >= answer.result.pieces.length;
    if (scan !== this.scan || isGone) {
      this.scan = scan;
      this.drop();
      this.put({ ...NO_CHART, of: 'mould' });
    }
    if (isStale(state)) {
      if (!this.current.isOld && this.current.chart !== null) this.put({ isOld: true });
      // Broken off, so that the worker is free for the plan.
      if (this.abort !== null) this.drop();
      return;
    }
    if (prefs.stage !== 'parting' || answer === null || !answer.isFinal || job !== null) return;
    const key = `${answer.revision} ${this.current.of}`;
    if (key !== this.asked) void this.run(key);
  }

  private drop(): void {
    this.abort?.abort();
    this.abort = null;
    this.asked = '';
    if (this.current.isUnderWay) this.put({ isUnderWay: false });
  }

  private async run(key: string): Promise<void> {
    this.abort?.abort();
    const abort = new AbortController();
    this.abort = abort;
    this.asked = key;
    this.put({ isUnderWay: true, problem: null });
    try {
      const chart = await this.planner.chart(this.current.of, { signal: abort.signal });
      if (this.abort === abort) this.put({ chart, isOld: false, isUnderWay: false });
    } catch (error) {
      if (this.abort !== abort) return;
      this.put({ isUnderWay: false, problem: isAbort(error) ? null : failureOf(error).message });
    }
    if (this.abort === abort) this.abort = null;
  }

  private put(change: Partial<CharterState>): void {
    this.current = { ...this.current, ...change };
    this.changed();
  }
}
