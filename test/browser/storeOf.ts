import type { Page } from 'playwright-core';

/** Values of some stores of the page's database by name, and its version. Bytes come as the text that they are. */
export async function readStores(page: Page, names: readonly string[]) {
  return page.evaluate(async (stores) => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const db = await done(indexedDB.open('scute'));
    const found: Record<string, unknown[]> = {};
    for (const name of stores) {
      const values = await done<unknown[]>(db.transaction(name).objectStore(name).getAll());
      found[name] = values.map((value) =>
        value instanceof ArrayBuffer ? value.byteLength : value instanceof Blob ? value.size : value,
      );
    }
    const { version } = db;
    db.close();
    return { version, found };
  }, names);
}

/** A store as an older version of the page left it, made before the page first opens it: values by store and key. */
export async function makeOldDatabase(
  page: Page,
  url: string,
  version: number,
  stores: Readonly<Record<string, Readonly<Record<string, unknown>>>>,
  scan: { readonly name: string; readonly bytes: Uint8Array },
): Promise<void> {
  // A bare page under the same address.
  const bare = `${url}bare-for-the-store`;
  await page.route(bare, (route) => route.fulfill({ contentType: 'text/html', body: '<p>bare</p>' }));
  await page.goto(bare);
  await page.evaluate(
    async (old) => {
      await new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('scute', old.version);
        request.onupgradeneeded = () => {
          for (const name of ['scan', ...Object.keys(old.stores)]) {
            request.result.createObjectStore(name, name === 'aside' ? { autoIncrement: true } : {});
          }
        };
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const db = request.result;
          const tx = db.transaction(db.objectStoreNames, 'readwrite');
          const bytes = Uint8Array.from(old.bytes).buffer;
          tx.objectStore('scan').put({ name: old.name, bytes }, 'current');
          for (const [name, values] of Object.entries(old.stores)) {
            for (const [key, value] of Object.entries(values)) {
              if (name === 'aside') tx.objectStore(name).add(value);
              else tx.objectStore(name).put(value, key);
            }
          }
          tx.oncomplete = () => {
            db.close();
            resolve();
          };
          tx.onerror = () => reject(tx.error);
        };
      });
    },
    { version, stores, name: scan.name, bytes: [...scan.bytes] },
  );
}

/** Puts a value into a store of the page's database, behind the page's back. */
export async function putBehind(page: Page, store: string, key: string, value: unknown): Promise<void> {
  await page.evaluate(
    async (what) => {
      await new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('scute');
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const db = request.result;
          const tx = db.transaction(what.store, 'readwrite');
          tx.objectStore(what.store).put(what.value, what.key);
          tx.oncomplete = () => {
            db.close();
            resolve();
          };
          tx.onerror = () => reject(tx.error);
        };
      });
    },
    { store, key, value },
  );
}
