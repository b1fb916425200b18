import type { Suggestion } from '../../core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { Planner } from '../../jobs/protocol.ts';
import type { LoadedScan, SessionState, SessionStore } from '../../session/SessionStore.ts';
import { takeSuggestion } from '../../session/undercutActions.ts';
import { failureOf, isAbort } from './failureOf.ts';

/** Numbers of pieces that can be asked for; 'all' asks for each of them. */
export const PIECE_COUNTS = [2, 3, 4] as const;
export type AskedCount = (typeof PIECE_COUNTS)[number] | 'all';

export interface FinderState {
  readonly count: AskedCount;
  /** The search under way, or null. */
  readonly job: { readonly fraction: number; readonly phase: string } | null;
  /** Best first; grows while the search goes on. */
  readonly suggestions: readonly Suggestion[];
  /** True when what the suggestions were found from has changed since. */
  readonly isOutdated: boolean;
  /** True when a search has come to its end, so that an empty list means that nothing was found. */
  readonly isDone: boolean;
  readonly problem: string | null;
  /** Index of the suggestion whose lines are shown on the mould: glanced at, or held there; null: none. */
  readonly shown: number | null;
  /** Index of the one that stays on the mould while others are not glanced at, so that it can be turned about. */
  readonly held: number | null;
}

const NOTHING: Omit<FinderState, 'count'> = {
  job: null,
  suggestions: [],
  isOutdated: false,
  isDone: false,
  problem: null,
  shown: null,
  held: null,
};

/** Asks for complete proposals of lines and pulls, keeps what has come, and puts the one taken into the plan. */
export class SuggestionFinder {
  private current: FinderState = { ...NOTHING, count: 2 };
  private abort: AbortController | null = null;
  private scan: LoadedScan | null = null;
  private foundFrom = '';
  private plan: PlanDocument | null = null;
  private readonly unsubscribe: () => void;

  constructor(
    private readonly store: SessionStore,
    private readonly planner: Planner,
    private readonly changed: () => void,
  ) {
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  get state(): FinderState {
    return this.current;
  }

  setCount(count: AskedCount): void {
    this.put({ count });
  }

  /** Starts a search; one under way gives way to it. Never rejects: what goes wrong stands in `problem`. */
  async start(): Promise<void> {
    this.abort?.abort();
    const abort = new AbortController();
    this.abort = abort;
    const isCurrent = () => this.abort === abort;
    const { plan } = this.store.state;
    this.foundFrom = groundsOf(plan);
    this.put({ ...NOTHING, job: { fraction: 0, phase: 'starting' } });
    const counts = this.current.count === 'all' ? PIECE_COUNTS : [this.current.count];
    try {
      await this.planner.suggest(plan, counts, {
        signal: abort.signal,
        progress: (fraction, phase) => {
          if (isCurrent()) this.put({ job: { fraction, phase } });
        },
        onSuggestions: (suggestions) => {
          if (isCurrent()) this.takeList(suggestions);
        },
      });
      if (isCurrent()) this.put({ job: null, isDone: true });
    } catch (error) {
      if (!isCurrent()) return;
      this.put({ job: null, ...(isAbort(error) ? {} : { problem: failureOf(error).message }) });
    }
  }

  /** Stops the search; what has come stays. */
  stop(): void {
    this.abort?.abort();
    this.abort = null;
    this.put({ job: null });
  }

  /** Shows the lines of one suggestion while it is glanced at; null: the glance is over, what is held shows again. */
  show(index: number | null): void {
    const shown = this.known(index) ?? this.current.held;
    if (shown !== this.current.shown) this.put({ shown });
  }

  /** Keeps the lines of one suggestion on the mould until another is held or it is let go (null). */
  hold(index: number | null): void {
    const held = this.known(index);
    if (held !== this.current.held || held !== this.current.shown) this.put({ held, shown: held });
  }

  /** Puts a suggestion's lines and pieces into the plan, and stops the search: its worker now has the plan to work out. */
  take(index: number): void {
    const suggestion = this.current.suggestions[index];
    if (!suggestion) return;
    this.stop();
    this.put({ shown: null, held: null });
    this.store.edit(takeSuggestion(suggestion));
  }

  dispose(): void {
    this.unsubscribe();
    this.abort?.abort();
  }

  /** The list may be put in another order as better ones come; what is shown stays the same suggestion where it can. */
  private takeList(suggestions: readonly Suggestion[]): void {
    const { shown, held, suggestions: before } = this.current;
    const keys = suggestions.map(linesKey);
    const now = (index: number | null): number | null => {
      const at = index === null ? -1 : keys.indexOf(linesKey(before[index]));
      return at < 0 ? null : at;
    };
    this.put({ suggestions, shown: now(shown), held: now(held) });
  }

  private known(index: number | null): number | null {
    return index !== null && index < this.current.suggestions.length ? index : null;
  }

  private follow({ scan, plan }: SessionState): void {
    if (scan !== this.scan) {
      this.scan = scan;
      this.plan = plan;
      this.abort?.abort();
      this.abort = null;
      this.put(NOTHING);
      return;
    }
    if (plan === this.plan) return;
    this.plan = plan;
    if (this.current.suggestions.length === 0 && this.current.job === null) return;
    const isOutdated = groundsOf(plan) !== this.foundFrom;
    if (isOutdated !== this.current.isOutdated) this.put({ isOutdated });
  }

  private put(change: Partial<FinderState>): void {
    this.current = { ...this.current, ...change };
    this.changed();
  }
}

const linesKey = (suggestion: Suggestion): string => JSON.stringify(suggestion.lines);

/** Whatever of the plan a search looks at: the scan as it stands, the areas no line may cross, give, coats, material. */
function groundsOf({ scan, parting, coats, material }: PlanDocument): string {
  const { notHere, rubberGiveMm, flange } = parting;
  return JSON.stringify([scan, notHere, rubberGiveMm, flange, coats, material]);
}
