import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { domeScan } from './domeScan.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { waitForAnswer } from './waitForAnswer.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

/** Names, keys and values of some stores of the page's database, and its version. */
async function readStores(page: Page, names: readonly string[]) {
  return page.evaluate(async (stores) => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const db = await done(indexedDB.open('scute'));
    const found: Record<string, unknown[]> = {};
    for (const name of stores) found[name] = await done(db.transaction(name).objectStore(name).getAll());
    const { version } = db;
    db.close();
    return { version, found };
  }, names);
}

test('what version 1 of the store held is still there in version 2, and what cannot be read is put aside', async () => {
  const url = inject('pageUrl');
  const opened = await openPage(browser, 'about:blank');
  const { page } = opened;
  // A bare page under the same address, so that the old store is there before the page first opens it.
  const bare = `${url}bare-for-the-store`;
  await page.route(bare, (route) => route.fulfill({ contentType: 'text/html', body: '<p>bare</p>' }));
  await page.goto(bare);
  const plan = { ...newPlan('kept.stl'), leastThicknessMm: 5.5 };
  await page.evaluate(
    async ({ scan, plan }) => {
      await new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('scute', 1);
        request.onupgradeneeded = () => {
          for (const name of ['scan', 'plan', 'prefs']) request.result.createObjectStore(name);
        };
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const db = request.result;
          const tx = db.transaction(['scan', 'plan', 'prefs'], 'readwrite');
          const bytes = Uint8Array.from(scan).buffer;
          tx.objectStore('scan').put({ name: 'kept.stl', bytes }, 'current');
          tx.objectStore('plan').put(plan, 'current');
          tx.objectStore('prefs').put({ stage: 'coats' }, 'current');
          tx.oncomplete = () => {
            db.close();
            resolve();
          };
          tx.onerror = () => reject(tx.error);
        };
      });
    },
    { scan: [...domeScan()], plan },
  );

  await page.goto(url);
  await page.locator('scute-title-block').getByText('kept.stl').waitFor();
  await waitForAnswer(page);
  const upgraded = await readStores(page, ['scan', 'plan', 'prefs', 'materials', 'shop', 'aside']);
  expect(upgraded.version).toBe(2);
  expect(upgraded.found.plan).toEqual([plan]);
  expect(upgraded.found.scan).toHaveLength(1);
  expect(upgraded.found.prefs).toMatchObject([{ stage: 'coats' }]);
  expect(upgraded.found.materials).toEqual([]);

  // A kept material of a kind that nobody can read.
  const broken = { schema: 'scute-material/2', id: 'ours', surprise: 7 };
  await page.evaluate(async (value) => {
    await new Promise<void>((resolve, reject) => {
      const request = indexedDB.open('scute');
      request.onerror = () => reject(request.error);
      request.onsuccess = () => {
        const db = request.result;
        const tx = db.transaction('materials', 'readwrite');
        tx.objectStore('materials').put(value, 'ours');
        tx.oncomplete = () => {
          db.close();
          resolve();
        };
      };
    });
  }, broken);
  await page.reload();
  await page.locator('scute-notices').getByText('“ours” could not be read and was put aside').waitFor();
  const after = await readStores(page, ['materials', 'aside', 'plan']);
  expect(after.found.materials).toEqual([]);
  expect(after.found.aside).toMatchObject([{ from: 'materials', key: 'ours', value: broken }]);
  expect(after.found.plan).toEqual([plan]);
  expectQuiet(opened);
  await opened.close();
}, 300_000);
