import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { KeptPlan } from '../../src/session/KeptPlan.ts';
import { domeScan } from './domeScan.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { makeOldDatabase, putBehind, readStores } from './storeOf.ts';
import { waitForAnswer } from './waitForAnswer.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

const scan = { name: 'kept.stl', bytes: domeScan() };
const plan = { ...newPlan('kept.stl'), leastThicknessMm: 5.5 };

test('what version 1 of the store held is a kept plan now, and what cannot be read is put aside', async () => {
  const url = inject('pageUrl');
  const prefs = { current: { stage: 'coats' } };
  const opened = await openPage(browser, url, {}, (blank) =>
    makeOldDatabase(blank, url, 1, { plan: { current: plan }, prefs }, scan),
  );
  const { page } = opened;
  await page.locator('scute-title-block').getByText('kept.stl').first().waitFor();
  await waitForAnswer(page);
  const upgraded = await readStores(page, ['plans', 'scans', 'prefs', 'materials', 'shop', 'aside']);
  expect(upgraded.version).toBe(3);
  const [kept] = upgraded.found.plans as KeptPlan[];
  expect(kept).toMatchObject({ name: 'kept', scanName: 'kept.stl', scanBytes: scan.bytes.length, plan });
  expect(upgraded.found.scans).toEqual([scan.bytes.length]);
  expect(upgraded.found.prefs).toContainEqual(expect.objectContaining({ stage: 'coats' }));
  expect(upgraded.found.prefs).toContain(kept.id);
  expect(upgraded.found.materials).toEqual([]);

  // A kept material of a kind that nobody can read.
  const broken = { schema: 'scute-material/2', id: 'ours', surprise: 7 };
  await putBehind(page, 'materials', 'ours', broken);
  await page.reload();
  await page.locator('scute-notices').getByText('“ours” could not be read and was put aside').waitFor();
  const after = await readStores(page, ['materials', 'aside', 'plans']);
  expect(after.found.materials).toEqual([]);
  expect(after.found.aside).toMatchObject([{ from: 'materials', key: 'ours', value: broken }]);
  expect(after.found.plans).toMatchObject([{ id: kept.id, plan }]);
  expectQuiet(opened);
  await opened.close();
}, 300_000);

test('what version 2 of the store held is all there in version 3, byte for byte', async () => {
  const url = inject('pageUrl');
  const aside = {
    from: 'shop',
    key: 'x',
    why: 'odd',
    at: '2026-01-01T00:00:00.000Z',
    value: [1, { two: 3 }],
  };
  const stores = {
    // A later plan than this page knows: it must lie there untouched.
    plan: { current: { schema: 'scute-plan/99', job: { name: 'From tomorrow' }, deep: [{ a: 1 }] } },
    prefs: { current: { stage: 'mix', units: 'us' } },
    materials: {},
    shop: {},
    aside: { x: aside },
  };
  const opened = await openPage(browser, url, {}, (blank) => makeOldDatabase(blank, url, 2, stores, scan));
  const { page } = opened;
  await page.locator('scute-notices').getByText('From tomorrow').waitFor();
  await waitForAnswer(page);
  const { version, found } = await readStores(page, ['plans', 'scans', 'prefs', 'aside']);
  expect(version).toBe(3);
  expect(found.aside).toEqual([aside]);
  expect(found.scans).toEqual([scan.bytes.length]);
  expect(found.prefs).toContainEqual(expect.objectContaining({ stage: 'mix', units: 'us' }));
  const tomorrow = { schema: 'scute-plan/99', job: { name: 'From tomorrow' }, deep: [{ a: 1 }] };
  expect(found.plans).toMatchObject([{ name: 'From tomorrow', scanName: 'kept.stl', plan: tomorrow }]);
  expect((found.plans as KeptPlan[])[0].plan).toEqual(tomorrow);

  // Refused with why, and still a way to a file.
  await page.getByRole('button', { name: 'Plans', exact: true }).click();
  const drawer = page.locator('scute-plan-drawer');
  await drawer.getByText('saved by a later version').waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    drawer.getByRole('button', { name: 'Save to a file: From tomorrow' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('From-tomorrow.scute');
  expectQuiet(opened);
  await opened.close();
}, 300_000);
