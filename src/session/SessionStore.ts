import type { PlanResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type { JobFailure, OpenedScan, PlanAnswer } from '../jobs/protocol.ts';
import { carryProgress, unkeptJobKey } from './benchProgress.ts';
import { deepestLock } from './deepestLock.ts';
import { History } from './History.ts';
import { carryTimers } from './timers.ts';
import { DEFAULT_VIEW_PREFS, type ViewPrefs } from './ViewPrefs.ts';

/** A scan that was read, with the bytes it came from, so that it can be kept and read again. */
export interface LoadedScan {
  readonly name: string;
  readonly bytes: ArrayBuffer;
  readonly opened: OpenedScan;
}

/** What a notice can ask for at the touch of a button; the page's commands know how. */
export type NoticeCommand =
  | { readonly do: 'put-back'; readonly id: string }
  | { readonly do: 'take-other' }
  | { readonly do: 'keep-copy' }
  | { readonly do: 'keep-again' }
  | { readonly do: 'save-bundle' };

export interface NoticeChoice {
  readonly text: string;
  readonly command: NoticeCommand;
}

/**
 * How the open job is kept. 'kept': in the browser's store, or in a moment. 'untouched': a demo as it came, nothing to keep.
 * 'failed': in this tab only.
 */
export type Keeping = 'kept' | 'untouched' | 'failed';

export interface Notice {
  readonly id: number;
  readonly tone: 'problem' | 'note';
  readonly text: string;
  /** Notices of one topic replace each other, so that a failing autosave says so once. */
  readonly topic: string;
  /** Ways out, as buttons. */
  readonly choices: readonly NoticeChoice[];
}

/** What the title block compares: the totals that stood before the latest change. */
export interface SettledTotals {
  readonly shellMassG: number;
  readonly heaviestMassG: number;
  /** Null while the undercuts were not worked out. */
  readonly deepestLockMm: number | null;
  readonly batches: number;
  /** From the first step to the last, minutes on the clock. */
  readonly elapsedMin: number;
  /** Null while nothing has a price. */
  readonly cost: number | null;
}

export interface SessionState {
  readonly plan: PlanDocument;
  /** Rises with every change of plan or scan; answers carry the revision they answer. */
  readonly revision: number;
  readonly scan: LoadedScan | null;
  /**
   * Under which ticks, buckets and timers of this job are kept: the id of its kept plan, so that two plans over one scan
   * share none and a new name loses none; `unkeptJobKey` while it has no such id.
   */
  readonly jobKey: string;
  readonly answer: PlanAnswer | null;
  readonly before: SettledTotals | null;
  /** The job under way, or null. */
  readonly job: { readonly fraction: number; readonly phase: string } | null;
  /** Why the latest plan has no answer, or null. */
  readonly failure: JobFailure | null;
  readonly notices: readonly Notice[];
  readonly prefs: ViewPrefs;
  readonly keeping: Keeping;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

export type PlanEdit = (plan: PlanDocument) => PlanDocument;

/**
 * The one place where the page's state lives. Methods change it and tell every listener, synchronously and once a
 * change; nothing here waits, draws or computes.
 */
export class SessionStore {
  private readonly history: History<PlanDocument>;
  private readonly listeners = new Set<(state: SessionState) => void>();
  private current: SessionState;
  private lastNoticeId = 0;
  /** First revision of the drag under way: answers from there on may be shown while the drag goes on. */
  private gestureRevision: number | null = null;

  constructor(plan: PlanDocument, prefs: ViewPrefs = DEFAULT_VIEW_PREFS) {
    this.history = new History(plan);
    this.current = {
      plan,
      revision: 1,
      scan: null,
      jobKey: unkeptJobKey(''),
      answer: null,
      before: null,
      job: null,
      failure: null,
      notices: [],
      prefs,
      keeping: 'untouched',
      canUndo: false,
      canRedo: false,
    };
  }

  get state(): SessionState {
    return this.current;
  }

  /** Calls `listener` after every change. Returns the way to stop it. */
  subscribe(listener: (state: SessionState) => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Applies an action. `gesture` names a drag: its changes make one history entry. No change, no entry. */
  edit(edit: PlanEdit, gesture: string | null = null): void {
    const next = edit(this.current.plan);
    if (next === this.current.plan || JSON.stringify(next) === JSON.stringify(this.current.plan)) return;
    const isNewEntry = this.history.commit(next, gesture);
    if (gesture === null) this.gestureRevision = null;
    else if (isNewEntry) this.gestureRevision = this.current.revision + 1;
    this.put(this.withPlan(isNewEntry));
  }

  get isGestureOn(): boolean {
    return this.gestureRevision !== null;
  }

  endGesture(): void {
    this.history.endGesture();
    this.gestureRevision = null;
  }

  undo(): void {
    if (this.history.undo()) this.stepThroughHistory();
  }

  redo(): void {
    if (this.history.redo()) this.stepThroughHistory();
  }

  /** Another scan with its plan. The history starts afresh: undo never brings back a plan for a scan that is gone. */
  openJob(scan: LoadedScan, plan: PlanDocument): void {
    this.history.reset(plan);
    this.gestureRevision = null;
    this.put({
      plan,
      scan,
      jobKey: unkeptJobKey(scan.name),
      revision: this.current.revision + 1,
      answer: null,
      before: null,
      failure: null,
      canUndo: false,
      canRedo: false,
    });
  }

  /**
   * Says under which key the open job is kept at the bench. What stands under `from` goes along: 'moved' it is gone there,
   * 'copied' it stays there too.
   */
  keyJob(jobKey: string, from: string | null = null, how: 'moved' | 'copied' = 'moved'): void {
    const { prefs } = this.current;
    if (from === null) {
      if (jobKey !== this.current.jobKey) this.put({ jobKey });
      return;
    }
    const isMoved = how === 'moved';
    const bench = carryProgress(prefs.bench, from, jobKey, isMoved);
    const timers = carryTimers(prefs.timers, from, jobKey, isMoved);
    const isSame = bench === prefs.bench && timers === prefs.timers;
    this.put(isSame ? { jobKey } : { jobKey, prefs: { ...prefs, bench, timers } });
  }

  /** Asks for the present plan to be worked out once more, as after a cancel. */
  askAgain(): void {
    this.put({ revision: this.current.revision + 1, failure: null });
  }

  /**
   * Takes an answer unless a later change has made it stale. While a drag goes on, answers to its earlier steps are
   * shown too (and count as stale), so that the picture follows the hand.
   */
  takeAnswer(answer: PlanAnswer): void {
    if (answer.revision < (this.gestureRevision ?? this.current.revision)) return;
    if (answer.revision < (this.current.answer?.revision ?? 0)) return;
    const rubber = answer.geometry.rubber ?? this.current.answer?.geometry.rubber ?? null;
    this.put({ answer: { ...answer, geometry: { ...answer.geometry, rubber } }, failure: null });
    this.dismiss('plan');
  }

  setJob(job: SessionState['job']): void {
    this.put({ job });
  }

  /** Why there is no answer. It is said in full in a notice; a stop that was asked for needs none. */
  setFailure(failure: JobFailure): void {
    this.put({ failure });
    if (failure.code !== 'stopped') this.notify('plan', 'problem', failure.message);
  }

  setPrefs(change: Partial<ViewPrefs>): void {
    this.put({ prefs: { ...this.current.prefs, ...change } });
  }

  setKeeping(keeping: Keeping): void {
    if (keeping !== this.current.keeping) this.put({ keeping });
  }

  notify(topic: string, tone: Notice['tone'], text: string, choices: readonly NoticeChoice[] = []): void {
    const others = this.current.notices.filter((n) => n.topic !== topic);
    this.lastNoticeId++;
    this.put({ notices: [...others, { id: this.lastNoticeId, tone, text, topic, choices }] });
  }

  dismiss(topic: string): void {
    if (!this.current.notices.some((n) => n.topic === topic)) return;
    this.put({ notices: this.current.notices.filter((n) => n.topic !== topic) });
  }

  private stepThroughHistory(): void {
    this.gestureRevision = null;
    this.put(this.withPlan(true));
  }

  private withPlan(isNewEntry: boolean): Partial<SessionState> {
    const { answer, before } = this.current;
    const settled = isNewEntry && answer?.isFinal ? settledTotals(answer.result) : before;
    return {
      plan: this.history.present,
      revision: this.current.revision + 1,
      before: settled,
      failure: null,
      canUndo: this.history.canUndo,
      canRedo: this.history.canRedo,
    };
  }

  private put(change: Partial<SessionState>): void {
    this.current = { ...this.current, ...change };
    for (const listener of [...this.listeners]) listener(this.current);
  }
}

/** The totals of an answer that a later change is compared with. */
export function settledTotals(result: PlanResult): SettledTotals {
  return {
    shellMassG: result.shell.massG,
    heaviestMassG: Math.max(0, ...result.pieces.map((p) => p.massG)),
    deepestLockMm: deepestLock(result)?.depthMm ?? null,
    batches: result.batches.length,
    elapsedMin: elapsedMin(result.schedule),
    cost: result.cost.total,
  };
}

/** From the first step to the last, minutes on the clock; 0 when there is none. */
export function elapsedMin(schedule: PlanResult['schedule']): number {
  if (schedule.length === 0) return 0;
  const first = Math.min(...schedule.map(({ startMin }) => startMin));
  return Math.max(...schedule.map(({ endMin }) => endMin)) - first;
}

/** True when the numbers in sight do not answer the present plan. */
export function isStale(state: SessionState): boolean {
  return state.answer !== null && state.answer.revision !== state.revision;
}
