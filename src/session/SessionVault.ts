import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

const DATABASE_NAME = 'scute';
const DATABASE_VERSION = 1;

/** How long another tab may hold an older database open before we say so, ms. */
const OPEN_PATIENCE_MS = 4000;

interface VaultSchema extends DBSchema {
  scan: { key: 'current'; value: StoredScan };
  plan: { key: 'current'; value: unknown };
  prefs: { key: 'current'; value: unknown };
}

export interface StoredScan {
  readonly name: string;
  readonly bytes: ArrayBuffer;
}

/** What an earlier visit left. `plan` and `prefs` are unchecked JSON: whoever reads them validates. */
export interface StoredSession {
  readonly scan: StoredScan | null;
  readonly plan: unknown;
  readonly prefs: unknown;
}

/** The browser's own store, behind three calls. Every one may reject: blocked, private window, full. */
export interface SessionVault {
  load(): Promise<StoredSession>;
  save(part: Partial<StoredSession>): Promise<void>;
}

/** A vault over IndexedDB. The database is opened at the first call and kept open. */
export function createIndexedDbVault(): SessionVault {
  let opening: Promise<IDBPDatabase<VaultSchema>> | null = null;
  const open = () => {
    opening ??= openVault().catch((error: unknown) => {
      opening = null;
      throw error;
    });
    return opening;
  };
  return {
    async load() {
      const db = await open();
      const tx = db.transaction(['scan', 'plan', 'prefs'], 'readonly');
      const [scan, plan, prefs] = await Promise.all([
        tx.objectStore('scan').get('current'),
        tx.objectStore('plan').get('current'),
        tx.objectStore('prefs').get('current'),
      ]);
      await tx.done;
      return { scan: scan ?? null, plan: plan ?? null, prefs: prefs ?? null };
    },
    async save(part) {
      const db = await open();
      // One transaction, so that a scan is never kept with the plan of another.
      const tx = db.transaction(['scan', 'plan', 'prefs'], 'readwrite');
      const writes: Promise<unknown>[] = [];
      if (part.scan) writes.push(tx.objectStore('scan').put(part.scan, 'current'));
      if (part.plan !== undefined) writes.push(tx.objectStore('plan').put(part.plan, 'current'));
      if (part.prefs !== undefined) writes.push(tx.objectStore('prefs').put(part.prefs, 'current'));
      await Promise.all([...writes, tx.done]);
    },
  };
}

function openVault(): Promise<IDBPDatabase<VaultSchema>> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new DOMException('The store is held by another tab.', 'TimeoutError')),
      OPEN_PATIENCE_MS,
    );
    openDB<VaultSchema>(DATABASE_NAME, DATABASE_VERSION, {
      upgrade(db) {
        db.createObjectStore('scan');
        db.createObjectStore('plan');
        db.createObjectStore('prefs');
      },
      // A later version of the page in another tab must not wait for this one.
      blocking(_current, _blocked, event) {
        (event.target as IDBDatabase).close();
      },
    })
      .then(resolve, reject)
      .finally(() => clearTimeout(timer));
  });
}
