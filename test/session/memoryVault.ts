import { type KeptPlan, KeptPlanMoved } from '../../src/session/KeptPlan.ts';
import { newKey } from '../../src/session/newKey.ts';
import type { PlanVault } from '../../src/session/PlanVault.ts';
import type { SessionVault, StoredSession } from '../../src/session/SessionVault.ts';
import type { TabChannel, TabMessage } from '../../src/session/TabChannel.ts';

/** What several tabs of one browser share: one store, and the air between them. */
export class MemoryBrowser {
  readonly plans = new Map<string, KeptPlan>();
  readonly scans = new Map<string, ArrayBuffer>();
  readonly pictures = new Map<string, Blob>();
  prefs: unknown = null;
  openId: string | null = null;
  /** Every write that was tried, in order: what it was. */
  readonly tried: string[] = [];
  /** Bytes of scans that were written, in order. */
  readonly scanWrites: number[] = [];
  /** Makes every write reject while it returns an error. */
  fail: () => Error | null = () => null;
  /** Makes every read reject too. */
  isBlocked = false;
  private readonly ears = new Set<{ readonly tab: object; readonly hear: (message: TabMessage) => void }>();

  /** The vault as one tab has it. */
  openTab(): SessionVault & { readonly tabs: TabChannel } {
    const tab = {};
    const write = async <T>(what: string, act: () => T | Promise<T>): Promise<T> => {
      this.tried.push(what);
      const error = this.fail();
      if (error) throw error;
      return act();
    };
    const read = async <T>(value: () => T): Promise<T> => {
      if (this.isBlocked) throw new DOMException('no', 'SecurityError');
      return structuredClone(value());
    };
    const find = (id: string): KeptPlan => {
      const kept = this.plans.get(id);
      if (!kept) throw new KeptPlanMoved('gone');
      return kept;
    };
    const put = (kept: KeptPlan): KeptPlan => {
      this.plans.set(kept.id, structuredClone(kept));
      return kept;
    };
    const at = () => new Date().toISOString();
    const plans: PlanVault = {
      list: () => read(() => [...this.plans.values()]),
      read: (id) => read(() => this.plans.get(id) ?? null),
      readScan: (key) => read(() => this.scans.get(key) ?? null),
      readPicture: (id) => Promise.resolve(this.pictures.get(id) ?? null),
      create: ({ bytes, ...fresh }) =>
        write('create', () => {
          // Scans of tests are few bytes of text: they stand for themselves.
          const scanKey = new TextDecoder().decode(bytes);
          if (!this.scans.has(scanKey)) {
            this.scans.set(scanKey, bytes.slice(0));
            this.scanWrites.push(bytes.byteLength);
          }
          return put({
            ...fresh,
            id: newKey(),
            scanKey,
            scanBytes: bytes.byteLength,
            createdAt: at(),
            changedAt: at(),
            revision: 1,
            binnedAt: null,
          });
        }),
      change: (id, revision, change) =>
        write('change', () => {
          const kept = find(id);
          if (kept.binnedAt !== null) throw new KeptPlanMoved('gone');
          if (kept.revision !== revision) throw new KeptPlanMoved('changed');
          return put({ ...kept, ...change, revision: revision + 1, changedAt: at() });
        }),
      describe: (id, { sizeMm, picture }) =>
        write('describe', () => {
          const kept = this.plans.get(id);
          if (kept && sizeMm) put({ ...kept, sizeMm });
          if (kept && picture) this.pictures.set(id, picture);
        }),
      copy: (id, name, plan) =>
        write('copy', () =>
          put({ ...find(id), id: newKey(), name, plan, createdAt: at(), changedAt: at(), revision: 1 }),
        ),
      bin: (id, isBinned) => write('bin', () => put({ ...find(id), binnedAt: isBinned ? at() : null })),
      erase: (id) =>
        write('erase', () => {
          const kept = this.plans.get(id);
          this.plans.delete(id);
          this.pictures.delete(id);
          const isShared = [...this.plans.values()].some((one) => one.scanKey === kept?.scanKey);
          if (kept && !isShared) this.scans.delete(kept.scanKey);
        }),
    };
    return {
      load: () => read((): StoredSession => ({ prefs: this.prefs, openId: this.openId })),
      save: ({ prefs, openId }) =>
        write('save', () => {
          if (prefs !== undefined) this.prefs = structuredClone(prefs);
          if (openId !== undefined) this.openId = openId;
        }),
      plans,
      tabs: {
        post: (message) => {
          for (const ear of this.ears) if (ear.tab !== tab) ear.hear(message);
        },
        listen: (hear) => {
          const ear = { tab, hear };
          this.ears.add(ear);
          return () => this.ears.delete(ear);
        },
      },
    };
  }

  /** Those that are not in the bin, oldest first. */
  get present(): KeptPlan[] {
    return [...this.plans.values()].filter(({ binnedAt }) => binnedAt === null);
  }
}
