import { keepVaultOpen, type StoredScan } from './openVault.ts';
import { createShopVault, type ShopVault } from './ShopVault.ts';

export type { StoredScan } from './openVault.ts';

/** What an earlier visit left. `plan` and `prefs` are unchecked JSON: whoever reads them validates. */
export interface StoredSession {
  readonly scan: StoredScan | null;
  readonly plan: unknown;
  readonly prefs: unknown;
}

/** The browser's own store, behind few calls. Every one may reject: blocked, private window, full. */
export interface SessionVault {
  load(): Promise<StoredSession>;
  save(part: Partial<StoredSession>): Promise<void>;
  /** What belongs to the shop and outlasts the job; left out where nothing of it is kept. */
  readonly shop?: ShopVault;
}

/** A vault over IndexedDB. The database is opened at the first call and kept open. */
export function createIndexedDbVault(): SessionVault {
  const open = keepVaultOpen();
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
    shop: createShopVault(open),
  };
}
