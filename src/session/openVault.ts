import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

const DATABASE_NAME = 'scute';
/** 1: scan, plan, prefs. 2: also what the shop keeps from job to job, and what could not be read. */
const DATABASE_VERSION = 2;

/** How long another tab may hold an older database open before we say so, ms. */
const OPEN_PATIENCE_MS = 4000;

export interface StoredScan {
  readonly name: string;
  readonly bytes: ArrayBuffer;
}

/** Something kept that this version could not read: put aside as it was, never thrown away. */
export interface AsideEntry {
  /** Where it lay, and under which key. */
  readonly from: ShopShelf;
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
  scan: { key: 'current'; value: StoredScan };
  plan: { key: 'current'; value: unknown };
  prefs: { key: 'current'; value: unknown };
  materials: { key: string; value: unknown };
  shop: { key: string; value: unknown };
  aside: { key: number; value: AsideEntry };
}

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
  return new Promise((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new DOMException('The store is held by another tab.', 'TimeoutError')),
      OPEN_PATIENCE_MS,
    );
    openDB<VaultSchema>(DATABASE_NAME, DATABASE_VERSION, {
      // Only adds: whatever an older version kept stays where it lies.
      upgrade(db, oldVersion) {
        if (oldVersion < 1) {
          db.createObjectStore('scan');
          db.createObjectStore('plan');
          db.createObjectStore('prefs');
        }
        if (oldVersion < 2) {
          db.createObjectStore('materials');
          db.createObjectStore('shop');
          db.createObjectStore('aside', { autoIncrement: true });
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
