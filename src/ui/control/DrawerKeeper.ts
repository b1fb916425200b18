import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { Autosave, UnkeptJob } from '../../session/Autosave.ts';
import { copyName } from '../../session/copyName.ts';
import { explainStoreError } from '../../session/explainStoreError.ts';
import { type KeptPlan, KeptPlanMoved } from '../../session/KeptPlan.ts';
import { checkPlan } from '../../session/planFile.ts';
import { isStale, type SessionState, type SessionStore } from '../../session/SessionStore.ts';
import type { SessionVault } from '../../session/SessionVault.ts';
import { setJobName } from '../../session/scanActions.ts';
import { failureOf } from './failureOf.ts';

/** What lies in the bin longer than this is erased at the next start, ms: a day, so that a mistake of the evening can be mended. */
export const BIN_KEPT_MS = 86_400_000;

/** From the answer to its small picture, ms: the view has drawn it by then, and a slider in the hand is not disturbed. */
const PICTURE_DELAY_MS = 1500;

/** One kept plan in the drawer. */
export interface DrawerCard {
  readonly kept: KeptPlan;
  readonly pictureHref: string | null;
  readonly isOpen: boolean;
  /** Why it cannot be opened, or null. */
  readonly trouble: string | null;
}

/** What the drawer shows. */
export interface DrawerState {
  readonly isOpen: boolean;
  /** Newest change first; null until they are read. */
  readonly cards: readonly DrawerCard[] | null;
  /** Thrown away and not erased yet, newest first. */
  readonly binned: readonly DrawerCard[];
  /** Left jobs that the browser has not kept. */
  readonly unkept: readonly UnkeptJob[];
  /** Of all that is kept here, bytes, each scan once. */
  readonly keptBytes: number;
  /** What the browser allows this page in all, bytes; null where it does not tell. */
  readonly quotaBytes: number | null;
  /** The browser has promised not to clear it by itself; null where it makes no such promise. */
  readonly isPersistent: boolean | null;
  /** What went wrong last, or ''. */
  readonly problem: string;
}

const CLOSED: DrawerState = {
  isOpen: false,
  cards: null,
  binned: [],
  unkept: [],
  keptBytes: 0,
  quotaBytes: null,
  isPersistent: null,
  problem: '',
};

/** The plans that are kept in this browser: what there is, and what is done with it. Calls never reject; what goes wrong is in the state. */
export class DrawerKeeper {
  /** Draws the mould small, as it stands in the view; null when there is nothing to draw. Set by whoever has the view. */
  takePicture: () => Promise<Blob | null> = () => Promise.resolve(null);
  private current = CLOSED;
  private hrefs: string[] = [];
  private pictureTimer: ReturnType<typeof setTimeout> | null = null;
  /** What the picture of the open plan was taken of, or is about to be. */
  private pictured: unknown = null;
  /** Size that was written last, and of which plan. */
  private described = '';
  private readonly stops: (() => void)[];

  constructor(
    private readonly store: SessionStore,
    private readonly vault: SessionVault,
    private readonly autosave: Autosave,
    private readonly changed: () => void,
    private readonly now: () => Date = () => new Date(),
  ) {
    this.stops = [store.subscribe((state) => this.follow(state))];
    const stop = vault.tabs?.listen(({ kind }) => {
      if (kind !== 'prefs') this.refreshIfOpen();
    });
    if (stop) this.stops.push(stop);
  }

  get state(): DrawerState {
    return this.current;
  }

  async open(): Promise<void> {
    this.put({ ...CLOSED, isOpen: true });
    // What is about to be written belongs into the list.
    await this.autosave.flush();
    await this.refresh();
    // The list does not wait for the picture of the open one.
    await this.picture();
    this.refreshIfOpen();
  }

  close(): void {
    if (!this.current.isOpen) return;
    this.letGoPictures();
    this.put(CLOSED);
  }

  refreshIfOpen(): void {
    if (this.current.isOpen) void this.refresh();
  }

  /** The plan changed last of those that are neither this one nor in the bin; null when there is none or it is not known. */
  newestOther(id: string): string | null {
    return (
      this.current.cards?.find(({ kept, trouble }) => kept.id !== id && trouble === null)?.kept.id ?? null
    );
  }

  rename(id: string, name: string): Promise<boolean> {
    return this.run('It was not renamed.', async () => {
      if (id === this.autosave.openId) {
        this.store.edit(setJobName(name));
        await this.autosave.flush();
        return;
      }
      const kept = await this.vault.plans.read(id);
      if (!kept) throw new KeptPlanMoved('gone');
      const plan = setJobName(name)(checkPlan(kept.plan));
      const { revision } = await this.vault.plans.change(id, kept.revision, { name, plan });
      this.vault.tabs?.post({ kind: 'saved', id, revision });
    });
  }

  copy(id: string): Promise<boolean> {
    return this.run('It was not copied.', async () => {
      if (id === this.autosave.openId) await this.autosave.flush();
      const kept = await this.vault.plans.read(id);
      if (!kept) throw new KeptPlanMoved('gone');
      const name = copyName(
        kept.name,
        (await this.vault.plans.list()).map((one) => one.name),
      );
      await this.vault.plans.copy(id, name, setJobName(name)(checkPlan(kept.plan)));
      this.vault.tabs?.post({ kind: 'list' });
    });
  }

  /** Throws a plan away; it can be put back until it is erased. */
  bin(id: string): Promise<boolean> {
    return this.run('It was not deleted.', async () => {
      const kept = await this.vault.plans.bin(id, true);
      this.vault.tabs?.post({ kind: 'gone', id });
      this.store.notify('binned', 'note', `“${kept.name}” was deleted.`, [
        { text: 'Put back', command: { do: 'put-back', id } },
      ]);
    });
  }

  async putBack(id: string): Promise<boolean> {
    const isDone = await this.run('It was not put back.', async () => {
      await this.vault.plans.bin(id, false);
      this.vault.tabs?.post({ kind: 'list' });
      this.autosave.heedPutBack(id);
      this.store.dismiss('binned');
    });
    if (!isDone && !this.current.isOpen)
      this.store.notify(
        'binned',
        'problem',
        'It was not put back: it is erased, or the store does not answer.',
      );
    return isDone;
  }

  /** Takes a plan away for good, and tries again to keep what had no room. */
  async erase(id: string): Promise<boolean> {
    const isDone = await this.run('It was not erased.', async () => {
      await this.vault.plans.erase(id);
      this.vault.tabs?.post({ kind: 'gone', id });
      this.vault.tabs?.post({ kind: 'list' });
      this.store.dismiss('binned');
    });
    if (isDone && this.store.state.keeping === 'failed') await this.autosave.retry();
    return isDone;
  }

  /** Erases what has lain in the bin for longer than a day. */
  async emptyBin(): Promise<void> {
    try {
      const latest = this.now().getTime() - BIN_KEPT_MS;
      for (const { id, binnedAt } of await this.vault.plans.list()) {
        if (binnedAt !== null && Date.parse(binnedAt) < latest) await this.vault.plans.erase(id);
      }
    } catch {
      // It lies there until the next start.
    }
  }

  /** Asks the browser not to clear what is kept here when the disk runs full. */
  async askPersistence(): Promise<void> {
    const isGranted = await storageOf()
      ?.persist?.()
      .catch(() => false);
    await this.refresh();
    if (isGranted !== true)
      this.put({
        ...this.current,
        problem:
          'The browser did not promise it. It may once the page is installed or used more often; files are safe in any case.',
      });
  }

  dispose(): void {
    for (const stop of this.stops) stop();
    if (this.pictureTimer !== null) clearTimeout(this.pictureTimer);
    this.letGoPictures();
  }

  private async refresh(problem = ''): Promise<void> {
    let all: KeptPlan[] = [];
    let pictures = new Map<string, string>();
    let said = problem;
    try {
      all = await this.vault.plans.list();
      pictures = await this.readPictures(all);
    } catch (error) {
      said = explainStoreError(error);
    }
    const storage = storageOf();
    const estimate = await storage?.estimate?.().catch(() => null);
    const isPersistent = (await storage?.persisted?.().catch(() => null)) ?? null;
    if (!this.current.isOpen) {
      for (const href of pictures.values()) URL.revokeObjectURL(href);
      return;
    }
    this.letGoPictures();
    this.hrefs = [...pictures.values()];
    const cards = all
      .sort((a, b) => b.changedAt.localeCompare(a.changedAt))
      .map((kept) => ({
        kept,
        pictureHref: pictures.get(kept.id) ?? null,
        isOpen: kept.id === this.autosave.openId,
        trouble: troubleOf(kept),
      }));
    this.put({
      isOpen: true,
      cards: cards.filter(({ kept }) => kept.binnedAt === null),
      binned: cards.filter(({ kept }) => kept.binnedAt !== null),
      unkept: this.store.state.keeping === 'failed' ? this.autosave.unkept : [],
      keptBytes: sumBytes(all),
      quotaBytes: estimate?.quota ?? null,
      isPersistent,
      problem: said,
    });
  }

  private async readPictures(all: readonly KeptPlan[]): Promise<Map<string, string>> {
    const found = new Map<string, string>();
    for (const { id } of all) {
      const picture = await this.vault.plans.readPicture(id);
      if (picture) found.set(id, URL.createObjectURL(picture));
    }
    return found;
  }

  private letGoPictures(): void {
    for (const href of this.hrefs.splice(0)) URL.revokeObjectURL(href);
  }

  private async run(failed: string, act: () => Promise<void>): Promise<boolean> {
    try {
      await act();
      if (this.current.isOpen) await this.refresh();
      return true;
    } catch (error) {
      if (this.current.isOpen) await this.refresh(`${failed} ${sayWhy(error)}`);
      return false;
    }
  }

  /** Notes the size of what was worked out, and has its small picture taken once the view has settled. */
  private follow(state: SessionState): void {
    const { answer } = state;
    const id = this.autosave.openId;
    if (id === null || !answer?.isFinal || isStale(state)) return;
    this.noteSize(id, answer.result.scan.sizeMm);
    if (this.pictured === null || this.pictured !== state.scan) {
      this.pictured = state.scan;
      if (this.pictureTimer !== null) clearTimeout(this.pictureTimer);
      this.pictureTimer = setTimeout(() => {
        void this.picture().then(() => this.refreshIfOpen());
      }, PICTURE_DELAY_MS);
    }
  }

  private noteSize(id: string, sizeMm: Vec3): void {
    const key = JSON.stringify([id, sizeMm]);
    if (key === this.described) return;
    this.described = key;
    this.vault.plans.describe(id, { sizeMm }).catch(() => {});
  }

  /** A picture is a comfort: where it cannot be taken or kept, the list does without. */
  private async picture(): Promise<void> {
    const id = this.autosave.openId;
    const { scan, answer } = this.store.state;
    if (id === null || !answer?.isFinal) return;
    try {
      const picture = await this.takePicture();
      // While it was drawn, another job may have come.
      if (picture && scan === this.store.state.scan) await this.vault.plans.describe(id, { picture });
    } catch {
      // As above.
    }
  }

  private put(state: DrawerState): void {
    this.current = state;
    this.changed();
  }
}

function storageOf(): StorageManager | undefined {
  return typeof navigator === 'undefined' ? undefined : (navigator.storage as StorageManager | undefined);
}

/** Bytes of all plans, each scan counted once. */
function sumBytes(all: readonly KeptPlan[]): number {
  const scans = new Map(all.map(({ scanKey, scanBytes }) => [scanKey, scanBytes]));
  let sum = 0;
  for (const bytes of scans.values()) sum += bytes;
  for (const { plan } of all) sum += JSON.stringify(plan).length;
  return sum;
}

/** Why a kept plan cannot be opened, or null. */
function troubleOf({ plan }: KeptPlan): string | null {
  if (plan === null) return null;
  try {
    checkPlan(plan);
    return null;
  } catch (error) {
    return failureOf(error).message;
  }
}

function sayWhy(error: unknown): string {
  if (error instanceof KeptPlanMoved)
    return error.how === 'gone' ? 'It is no longer there.' : 'Another tab has changed it; try again.';
  if (error instanceof Error && error.name === 'PlanError') return error.message;
  return explainStoreError(error);
}
