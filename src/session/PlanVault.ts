import {
  type KeptChange,
  type KeptLook,
  type KeptPlan,
  KeptPlanMoved,
  type NewKeptPlan,
} from './KeptPlan.ts';
import { newKey } from './newKey.ts';
import type { VaultDatabase } from './openVault.ts';

/**
 * Kept plans. Every call may reject: blocked, private window, full. Each is one transaction: it is done whole or not at all,
 * in whichever tab, and a scan lies there as long as a plan that names it.
 */
export interface PlanVault {
  /** All of them, in no order, those in the bin too. */
  list(): Promise<KeptPlan[]>;
  read(id: string): Promise<KeptPlan | null>;
  /** Bytes of a kept scan; null when they are not there. */
  readScan(scanKey: string): Promise<ArrayBuffer | null>;
  readPicture(id: string): Promise<Blob | null>;
  /** Keeps a plan with its scan; the scan's bytes are written only when nobody has kept them yet. */
  create(fresh: NewKeptPlan): Promise<KeptPlan>;
  /** Writes a change made to `revision`. Throws KeptPlanMoved when that is not what is kept, or it is in the bin. */
  change(id: string, revision: number, change: KeptChange): Promise<KeptPlan>;
  /** Writes what was found out about it. Neither its revision nor its date changes; one that is gone is left alone. */
  describe(id: string, look: KeptLook): Promise<void>;
  /** One more of it, under another name, with `plan` in place of its own. Throws KeptPlanMoved when it is gone. */
  copy(id: string, name: string, plan: unknown): Promise<KeptPlan>;
  /** Puts it into the bin, or takes it out again. Throws KeptPlanMoved when it is gone. */
  bin(id: string, isBinned: boolean): Promise<KeptPlan>;
  /** Takes it away for good, its scan too when no other plan has that one. */
  erase(id: string): Promise<void>;
}

const STORES = ['plans', 'scans', 'pictures'] as const;

/**
 * The plans' part of the database that `open` leads to.
 * @param digest a name for bytes that equal bytes share, so that they are kept once; null: each is kept under a name of its own
 */
export function createPlanVault(
  open: () => Promise<VaultDatabase>,
  digest: (bytes: Blob) => Promise<string | null>,
  now: () => Date = () => new Date(),
): PlanVault {
  /** Reads a plan, makes another of it and writes that, in one transaction. */
  const replace = async (id: string, make: (kept: KeptPlan) => KeptPlan): Promise<KeptPlan> => {
    const tx = (await open()).transaction('plans', 'readwrite');
    const kept = await tx.store.get(id);
    if (!kept) throw new KeptPlanMoved('gone');
    const next = make(kept);
    await Promise.all([tx.store.put(next, id), tx.done]);
    return next;
  };
  return {
    async list() {
      return (await open()).getAll('plans');
    },
    async read(id) {
      return (await (await open()).get('plans', id)) ?? null;
    },
    async readScan(scanKey) {
      const kept = await (await open()).get('scans', scanKey);
      return kept instanceof Blob ? kept.arrayBuffer() : (kept ?? null);
    },
    async readPicture(id) {
      return (await (await open()).get('pictures', id)) ?? null;
    },
    async create({ bytes, ...fresh }) {
      const blob = await blobOf(bytes);
      const scanKey = (await digest(blob)) ?? newKey();
      const at = now().toISOString();
      const kept: KeptPlan = {
        ...fresh,
        id: newKey(),
        scanKey,
        scanBytes: bytes.byteLength,
        createdAt: at,
        changedAt: at,
        revision: 1,
        binnedAt: null,
      };
      const tx = (await open()).transaction(['plans', 'scans'], 'readwrite');
      const isThere = (await tx.objectStore('scans').count(scanKey)) > 0;
      await Promise.all([
        ...(isThere ? [] : [tx.objectStore('scans').put(blob, scanKey)]),
        tx.objectStore('plans').put(kept, kept.id),
        tx.done,
      ]);
      return kept;
    },
    change: (id, revision, change) =>
      replace(id, (kept) => {
        if (kept.binnedAt !== null) throw new KeptPlanMoved('gone');
        if (kept.revision !== revision) throw new KeptPlanMoved('changed');
        return { ...kept, ...change, revision: revision + 1, changedAt: now().toISOString() };
      }),
    async describe(id, { sizeMm, picture }) {
      const tx = (await open()).transaction(['plans', 'pictures'], 'readwrite');
      const kept = await tx.objectStore('plans').get(id);
      await Promise.all([
        ...(kept && sizeMm ? [tx.objectStore('plans').put({ ...kept, sizeMm }, id)] : []),
        ...(kept && picture ? [tx.objectStore('pictures').put(picture, id)] : []),
        tx.done,
      ]);
    },
    async copy(id, name, plan) {
      const tx = (await open()).transaction(['plans', 'pictures'], 'readwrite');
      const [kept, picture] = await Promise.all([
        tx.objectStore('plans').get(id),
        tx.objectStore('pictures').get(id),
      ]);
      if (!kept) throw new KeptPlanMoved('gone');
      const at = now().toISOString();
      const copied: KeptPlan = {
        ...kept,
        id: newKey(),
        name,
        plan,
        createdAt: at,
        changedAt: at,
        revision: 1,
        binnedAt: null,
      };
      await Promise.all([
        tx.objectStore('plans').put(copied, copied.id),
        ...(picture ? [tx.objectStore('pictures').put(picture, copied.id)] : []),
        tx.done,
      ]);
      return copied;
    },
    bin: (id, isBinned) =>
      replace(id, (kept) => ({ ...kept, binnedAt: isBinned ? now().toISOString() : null })),
    async erase(id) {
      const tx = (await open()).transaction(STORES, 'readwrite');
      const plans = await tx.objectStore('plans').getAll();
      const kept = plans.find((one) => one.id === id);
      const isShared = plans.some((one) => one.id !== id && one.scanKey === kept?.scanKey);
      await Promise.all([
        tx.objectStore('plans').delete(id),
        tx.objectStore('pictures').delete(id),
        ...(kept && !isShared ? [tx.objectStore('scans').delete(kept.scanKey)] : []),
        tx.done,
      ]);
    },
  };
}

/** Bytes copied in one go: some milliseconds. */
const PART_BYTES = 4 << 20;

/** The same bytes, copied part by part, so that a large scan does not hold the page up. */
async function blobOf(bytes: ArrayBuffer): Promise<Blob> {
  const parts: Blob[] = [];
  for (let at = 0; at < bytes.byteLength; at += PART_BYTES) {
    parts.push(new Blob([new Uint8Array(bytes, at, Math.min(PART_BYTES, bytes.byteLength - at))]));
    if (bytes.byteLength > PART_BYTES) await new Promise((resolve) => setTimeout(resolve));
  }
  return new Blob(parts);
}
