import type { MapAsk, MapPicture, Planner } from '../../jobs/protocol.ts';
import { pictureAt } from '../../session/mapPrefs.ts';
import { isStale, type SessionState, type SessionStore } from '../../session/SessionStore.ts';
import { failureOf, isAbort } from './failureOf.ts';

export interface MapState {
  /** The newest map of what is asked for; null until it came. It may be of an earlier plan: its revision tells. */
  readonly picture: MapPicture | null;
  /** How far the next one is, 0..1; null: none is under way. */
  readonly fraction: number | null;
  readonly problem: string | null;
}

/**
 * Keeps the map over the mould in step with what is chosen and with the newest answer. The newest request wins; the map in
 * sight stays until the next one has come, but a map of something else goes at once.
 */
export class MapDrawer {
  private current: MapState = { picture: null, fraction: null, problem: null };
  private abort: AbortController | null = null;
  private asked = '';
  private readonly unsubscribe: () => void;

  constructor(
    store: SessionStore,
    private readonly planner: Planner,
    private readonly changed: () => void,
  ) {
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  get state(): MapState {
    return this.current;
  }

  dispose(): void {
    this.unsubscribe();
    this.abort?.abort();
  }

  private follow(state: SessionState): void {
    const { answer } = state;
    const ask = mapAsked(state);
    if (ask === null || answer === null) {
      this.drop();
      if (this.current.picture !== null || this.current.problem !== null)
        this.put({ picture: null, fraction: null, problem: null });
      return;
    }
    const shown = this.current.picture;
    if (shown && (shown.of !== ask.of || shown.coat !== ask.coat)) this.put({ picture: null, problem: null });
    // The worker is about to answer a newer plan; what it has now would be drawn for nothing.
    if (isStale(state)) return;
    // Locks stand later than the pieces.
    if (ask.of === 'undercut' && answer.geometry.pieces.some(({ undercut }) => undercut === null)) return;
    const key = `${ask.of} ${ask.coat} ${answer.revision} ${answer.geometry.pieces.length} ${answer.isFinal}`;
    if (key !== this.asked) void this.run(ask, key);
  }

  private drop(): void {
    this.abort?.abort();
    this.abort = null;
    this.asked = '';
    if (this.current.fraction !== null) this.put({ fraction: null });
  }

  private async run(ask: MapAsk, key: string): Promise<void> {
    this.abort?.abort();
    const abort = new AbortController();
    this.abort = abort;
    this.asked = key;
    this.put({ fraction: 0, problem: null });
    try {
      const picture = await this.planner.map(ask, {
        signal: abort.signal,
        progress: (fraction) => {
          if (this.abort === abort) this.put({ fraction });
        },
      });
      if (this.abort === abort) this.put({ picture, fraction: null });
    } catch (error) {
      if (this.abort !== abort) return;
      this.put({ fraction: null, problem: isAbort(error) ? null : failureOf(error).message });
    }
    if (this.abort === abort) this.abort = null;
  }

  private put(change: Partial<MapState>): void {
    this.current = { ...this.current, ...change };
    this.changed();
  }
}

/** What map this stage shows, or null when it shows its pieces. */
export function mapAsked({ prefs, plan }: Pick<SessionState, 'prefs' | 'plan'>): MapAsk | null {
  const picture = pictureAt(prefs.stage, prefs.pictures);
  if (picture === 'pieces' || prefs.stage === 'sheet') return null;
  const isPart = picture === 'thickness' && prefs.mapCoat !== null && prefs.mapCoat < plan.coats.length - 1;
  return { of: picture, coat: isPart ? prefs.mapCoat : null };
}
