import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { build, preview } from 'vite';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { serialisePlan } from '../../src/core/plan/serialisePlan.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { firstDownload } from '../browser/firstDownload.ts';
import { launchBrowser } from '../browser/launchBrowser.ts';
import { openPage } from '../browser/openPage.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { lateKeysMs, longestTask, watchTasks } from './pageTasks.ts';
import { rendererPeakMb } from './rendererMemory.ts';

/** A large scan's last answer may take this long on a slow machine. */
const ANSWER_PATIENCE_MS = 600_000;
/** After an answer the page still makes shades and labels. */
const SETTLE_MS = 1500;
const KEYS_PRESSED = 20;

/** `npm run bench -- page`: what the page's user waits for, in Chromium on this machine, WebGL on the processor. */
export async function benchPage(): Promise<void> {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const outDir = await mkdtemp(join(tmpdir(), 'scute-bench-'));
  await build({ root, mode: 'production', logLevel: 'error', build: { outDir, emptyOutDir: true } });
  const { pageBytes, workerBytes } = await firstDownload(outDir);
  say('first download, gzipped, before the worker', `${Math.round(pageBytes / 1000)} kB`);
  say('the worker, gzipped', `${Math.round(workerBytes / 1000)} kB`);
  const server = await preview({
    root,
    logLevel: 'silent',
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0 },
  });
  const url = server.resolvedUrls?.local[0];
  const browser = await launchBrowser();
  try {
    if (url === undefined) throw new Error('The preview server told no address.');
    await benchDemo(browser, url);
    await benchMillion(browser, url, outDir);
    await benchMemory(browser, url, outDir);
  } finally {
    await browser.close();
    await server.close();
    await rm(outDir, { recursive: true, force: true });
  }
}

async function benchDemo(browser: Browser, url: string): Promise<void> {
  const since = stopwatch();
  const opened = await openPage(browser, url, { serviceWorkers: 'allow' }, watchTasks);
  const { page } = opened;
  await firstNumbers(page);
  say('demo: first numbers', since());
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  say('demo: final numbers', since());
  await page.waitForTimeout(SETTLE_MS);
  await sayLongest(page, 'demo: longest block while it opens');
  for (const stage of ['Parting', 'Coats', 'Mix', 'Sheet', 'Scan']) {
    await goTo(page, stage);
    await sayLongest(page, `demo: longest block on going to ${stage}`);
  }
  await benchSlider(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.context().setOffline(true);
  const sinceReload = stopwatch();
  await page.reload();
  await page.getByRole('main').waitFor();
  say('offline start, until the page stands', sinceReload());
  await opened.close();
}

/** A coat made thicker by key after key, each as soon as the last was taken. */
async function benchSlider(page: Page): Promise<void> {
  await goTo(page, 'Coats');
  await page.locator('input[type="range"]').first().focus();
  await longestTask(page);
  await lateKeysMs(page);
  for (let n = 0; n < KEYS_PRESSED; n++) await page.keyboard.press('ArrowRight');
  await page.waitForTimeout(SETTLE_MS);
  const lateMs = await lateKeysMs(page);
  say(
    `demo: a coat's slider moved ${KEYS_PRESSED} steps, slowest painted in`,
    lateMs.length === 0 ? '16 ms' : `${Math.round(Math.max(...lateMs))} ms`,
  );
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  await sayLongest(page, 'demo: longest block while it moves and settles');
}

async function benchMillion(browser: Browser, url: string, folder: string): Promise<void> {
  const path = join(folder, 'million.stl');
  await writeFile(path, writeStl(octasphere(100, 354)));
  const opened = await openPage(browser, url, {}, watchTasks);
  const { page } = opened;
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  await page.waitForTimeout(SETTLE_MS);
  await longestTask(page);
  const since = stopwatch();
  await page.locator('input[type="file"]').first().setInputFiles(path);
  await page.getByText('million', { exact: false }).first().waitFor();
  await firstNumbers(page);
  say('1 002 528 triangles, binary STL: first numbers', since());
  await fieldNumbers(page);
  say("1 002 528 triangles, binary STL: the field's own numbers", since());
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  say('1 002 528 triangles, binary STL: final numbers', since());
  await page.waitForTimeout(SETTLE_MS);
  await sayLongest(page, '1 002 528 triangles: longest block meanwhile');
  await opened.close();
}

/** A tab of its own for two million triangles at 1 mm: the memory that its process, page and workers, holds at most. */
async function benchMemory(browser: Browser, url: string, folder: string): Promise<void> {
  const name = 'two-million.stl';
  await writeFile(join(folder, name), writeStl(octasphere(100, 500)));
  const plan = join(folder, 'two-million.scute.json');
  await writeFile(plan, serialisePlan({ ...newPlan(name), resolutionMm: 1 }));
  const opened = await openPage(browser, url);
  const { page } = opened;
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  const input = page.locator('input[type="file"]').first();
  await input.setInputFiles(plan);
  await page.waitForTimeout(SETTLE_MS);
  await input.setInputFiles(join(folder, name));
  await page.locator('scute-title-block').getByText(name).waitFor();
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  const peakMb = rendererPeakMb();
  say('2 000 000 triangles at 1 mm: the tab held at most', peakMb === null ? 'not told' : `${peakMb} MB`);
  await opened.close();
}

async function firstNumbers(page: Page): Promise<void> {
  await page
    .locator('scute-title-block .status')
    .filter({ hasText: /Rough|Refining/ })
    .first()
    .waitFor({ timeout: ANSWER_PATIENCE_MS });
}

/** A first estimate is told with a tilde, what a field was asked for without. */
async function fieldNumbers(page: Page): Promise<void> {
  await page
    .locator('scute-title-block .rough')
    .first()
    .waitFor({ state: 'detached', timeout: ANSWER_PATIENCE_MS });
}

async function goTo(page: Page, stage: string): Promise<void> {
  await page
    .getByRole('button', { name: new RegExp(stage) })
    .first()
    .click();
  await page.waitForTimeout(SETTLE_MS);
}

async function sayLongest(page: Page, what: string): Promise<void> {
  const { tookMs, ownMs } = await longestTask(page);
  say(what, tookMs === 0 ? 'none over 50 ms' : `${Math.round(tookMs)} ms`);
  if (tookMs > 0) say('  the same, less waiting for the graphics', `${Math.round(ownMs)} ms`);
}

function stopwatch(): () => string {
  const from = performance.now();
  return () => `${((performance.now() - from) / 1000).toFixed(1)} s`;
}

function say(what: string, value: string): void {
  console.log(`${what.padEnd(66)} ${value.padStart(9)}`);
}
