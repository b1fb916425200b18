import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from 'idb';
import type { KeptPlan } from './KeptPlan.ts';
import { newKey } from './newKey.ts';

const DATABASE_NAME = 'scute';
/**
 * 1: one scan, one plan, prefs. 2: also what the shop keeps from job to job, and what could not be read. 3: many plans, scans by
 * their content, pictures.
 */
export const DATABASE_VERSION = 3;

/** How long another tab may hold an older database open before we say so, ms. */
const OPEN_PATIENCE_MS = 4000;

/** A scan as versions 1 and 2 kept it. */
interface OldScan {
  readonly name: string;
  readonly bytes: ArrayBuffer;
}

/** Something kept that this version could not read: put aside as it was, never thrown away. */
export interface AsideEntry {
  /** Where it lay, and under which key. */
  readonly from: ShopShelf | 'plan';
  readonly key: string;
  /** Why it could not be read, for people. */
  readonly why: string;
  /** When it was put aside, ISO 8601. */
  readonly at: string;
  readonly value: unknown;
}

export const SHOP_SHELVES = ['materials', 'shop'] as const;
/** 'materials': the user's own systems by id. 'shop': what finished jobs taught, by date and name of the job. */
export type ShopShelf = (typeof SHOP_SHELVES)[number];

export interface VaultSchema extends DBSchema {
  plans: { key: string; value: KeptPlan };
  /** Bytes of scans, by `KeptPlan.scanKey`; as a Blob, which the browser writes beside the page's work, or as earlier versions kept them. */
  scans: { key: string; value: Blob | ArrayBuffer };
  /** Small pictures, by id of the plan. */
  pictures: { key: string; value: Blob };
  /** 'current': how the page is looked at. 'open': id of the kept plan that was open last. */
  prefs: { key: 'current' | 'open'; value: unknown };
  materials: { key: string; value: unknown };
  shop: { key: string; value: unknown };
  aside: { key: number; value: AsideEntry };
}

/** Something of the shop's that is put aside. */
export type ShopAside = AsideEntry & { readonly from: ShopShelf };

export type VaultDatabase = IDBPDatabase<VaultSchema>;

/**
 * A way to the database that opens it at the first call and keeps it open. A failed opening is tried again at the next call,
 * and so is one that another tab's later version, or the browser, closed. Rejects with the browser's own DOMException.
 */
export function keepVaultOpen(): () => Promise<VaultDatabase> {
  let opening: Promise<VaultDatabase> | null = null;
  const forget = () => {
    opening = null;
  };
  return () => {
    opening ??= openVault(forget).catch((error: unknown) => {
      forget();
      throw error;
    });
    return opening;
  };
}

function openVault(closed: () => void): Promise<VaultDatabase> {
  // Some private windows and old views inside other programs have none at all.
  if (!globalThis.indexedDB)
    return Promise.reject(new DOMException('There is no store.', 'NotSupportedError'));
  return new Promise((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new DOMException('The store is held by another tab.', 'TimeoutError')),
      OPEN_PATIENCE_MS,
    );
    openDB<VaultSchema>(DATABASE_NAME, DATABASE_VERSION, {
      // One transaction: when any step of it fails, the database stays as the older version left it.
      upgrade(db, oldVersion, _newVersion, tx) {
        if (oldVersion < 1) db.createObjectStore('prefs');
        if (oldVersion < 2) {
          db.createObjectStore('materials');
          db.createObjectStore('shop');
          db.createObjectStore('aside', { autoIncrement: true });
        }
        if (oldVersion < 3) {
          db.createObjectStore('plans');
          db.createObjectStore('scans');
          db.createObjectStore('pictures');
          if (oldVersion > 0) moveOldJob(tx).catch(() => tx.abort());
        }
      },
      // A later version of the page in another tab must not wait for this one.
      blocking(_current, _blocked, event) {
        (event.target as IDBDatabase).close();
        closed();
      },
      terminated: closed,
    })
      .then(resolve, reject)
      .finally(() => clearTimeout(timer));
  });
}

/**
 * The one job that versions 1 and 2 kept becomes the first kept plan. Its scan goes under a key of its own: a digest would
 * keep the transaction waiting, which the store does not allow.
 */
async function moveOldJob(tx: unknown): Promise<void> {
  // With stores of another time, of which the present schema knows nothing.
  const old = tx as IDBPTransaction<unknown, string[], 'versionchange'>;
  const [scan, plan] = (await Promise.all([
    old.objectStore('scan').get('current'),
    old.objectStore('plan').get('current'),
  ])) as [OldScan | undefined, unknown];
  const at = new Date().toISOString();
  if (scan) {
    const id = newKey();
    const scanKey = newKey();
    const record: KeptPlan = {
      id,
      name: nameOf(plan) ?? scan.name,
      scanName: scan.name,
      scanKey,
      scanBytes: scan.bytes.byteLength,
      sizeMm: null,
      createdAt: at,
      changedAt: at,
      revision: 1,
      binnedAt: null,
      plan: plan ?? null,
    };
    await Promise.all([
      old.objectStore('plans').put(record, id),
      old.objectStore('scans').put(scan.bytes, scanKey),
      old.objectStore('prefs').put(id, 'open'),
    ]);
  } else if (plan !== undefined) {
    const entry: AsideEntry = {
      from: 'plan',
      key: 'current',
      why: 'Its scan was not kept.',
      at,
      value: plan,
    };
    await old.objectStore('aside').add(entry);
  }
  old.db.deleteObjectStore('scan');
  old.db.deleteObjectStore('plan');
}

/** The job's name out of an unchecked plan. */
function nameOf(plan: unknown): string | null {
  const job = (plan as { readonly job?: { readonly name?: unknown } } | null | undefined)?.job;
  return typeof job?.name === 'string' && job.name !== '' ? job.name : null;
}
