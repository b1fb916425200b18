import type { SessionState, SessionStore } from './SessionStore.ts';
import type { SessionVault, StoredSession } from './SessionVault.ts';

/** Quiet time before a write, ms: a drag does not write at every step, and closing the tab loses less than a second. */
export const AUTOSAVE_DELAY_MS = 500;

/** The three things that are kept, compared by identity. */
interface Kept {
  readonly scan: ArrayBuffer | null;
  readonly plan: unknown;
  readonly prefs: unknown;
}

function keptOf(state: SessionState): Kept {
  return { scan: state.scan?.bytes ?? null, plan: state.plan, prefs: state.prefs };
}

/**
 * Keeps the vault in step with the store. A write that fails is said in a notice and tried again at the next change;
 * the session in memory is untouched by it.
 */
export class Autosave {
  private timer: ReturnType<typeof setTimeout> | null = null;
  private saved: Kept;
  /** What the latest write tried to keep: a write that failed is not tried again until something changes. */
  private tried: Kept;
  private writing: Promise<void> = Promise.resolve();
  private readonly unsubscribe: () => void;

  constructor(
    private readonly store: SessionStore,
    private readonly vault: SessionVault,
    private readonly delayMs = AUTOSAVE_DELAY_MS,
  ) {
    this.saved = keptOf(store.state);
    this.tried = this.saved;
    this.unsubscribe = store.subscribe((state) => this.notice(state));
  }

  /** Writes what is waiting now; resolves when it is kept or has been reported as not kept. */
  async flush(): Promise<void> {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
    this.writing = this.writing.then(() => this.write());
    await this.writing;
  }

  dispose(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.unsubscribe();
  }

  private notice(state: SessionState): void {
    if (state.scan === null || this.timer !== null) return;
    const now = keptOf(state);
    if (now.scan === this.tried.scan && now.plan === this.tried.plan && now.prefs === this.tried.prefs)
      return;
    this.timer = setTimeout(() => void this.flush(), this.delayMs);
  }

  private pending(state: SessionState): Partial<StoredSession> {
    // Before the first scan there is nothing worth keeping, and a plan alone would come back without its scan.
    if (state.scan === null) return {};
    return {
      ...(state.scan.bytes !== this.saved.scan && {
        scan: { name: state.scan.name, bytes: state.scan.bytes },
      }),
      ...(state.plan !== this.saved.plan && { plan: state.plan }),
      ...(state.prefs !== this.saved.prefs && { prefs: state.prefs }),
    };
  }

  private async write(): Promise<void> {
    const state = this.store.state;
    const part = this.pending(state);
    if (Object.keys(part).length === 0) return;
    this.tried = keptOf(state);
    try {
      await this.vault.save(part);
      this.saved = keptOf(state);
      this.store.dismiss('autosave');
    } catch (error) {
      this.store.notify('autosave', 'problem', explainStoreError(error));
    }
  }
}

/** Why the browser did not keep the session, and what to do. */
export function explainStoreError(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  const remedy =
    'Everything is still here while this tab is open; save the plan to a file before you close it.';
  if (name === 'QuotaExceededError') return `The browser's store is full, so this job is not kept. ${remedy}`;
  if (name === 'TimeoutError') return `Another tab holds the browser's store. Close it. ${remedy}`;
  if (name === 'VersionError')
    return `A newer version of this page has used the browser's store; reload to get that one. ${remedy}`;
  return `This browser does not let the page keep the job (${name || 'unknown reason'}). ${remedy}`;
}
