import type { AsideEntry, ShopAside, ShopShelf, VaultDatabase } from './openVault.ts';

/** Kept under a key; the value is unchecked: whoever reads it validates. */
export interface KeptValue {
  readonly key: string;
  readonly value: unknown;
}

/** What the shop keeps from job to job. Every call may reject: blocked, private window, full. */
export interface ShopVault {
  list(shelf: ShopShelf): Promise<KeptValue[]>;
  put(shelf: ShopShelf, key: string, value: unknown): Promise<void>;
  drop(shelf: ShopShelf, key: string): Promise<void>;
  /** Moves what lies there, in one step: it is either where it was or aside, never nowhere. */
  setAside(entry: ShopAside): Promise<void>;
  listAside(): Promise<AsideEntry[]>;
}

/** The shop's part of the database that `open` leads to. */
export function createShopVault(open: () => Promise<VaultDatabase>): ShopVault {
  return {
    async list(shelf) {
      const tx = (await open()).transaction(shelf, 'readonly');
      const [keys, values] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()]);
      await tx.done;
      return keys.map((key, i) => ({ key, value: values[i] }));
    },
    async put(shelf, key, value) {
      await (await open()).put(shelf, value, key);
    },
    async drop(shelf, key) {
      await (await open()).delete(shelf, key);
    },
    async setAside(entry) {
      const tx = (await open()).transaction([entry.from, 'aside'], 'readwrite');
      await Promise.all([
        tx.objectStore('aside').add(entry),
        tx.objectStore(entry.from).delete(entry.key),
        tx.done,
      ]);
    },
    async listAside() {
      return (await open()).getAll('aside');
    },
  };
}
