import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { build, preview } from 'vite';
import { firstDownload } from '../browser/firstDownload.ts';
import { launchBrowser } from '../browser/launchBrowser.ts';
import { openPage } from '../browser/openPage.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';

/**
 * `npm run bench -- page`: what the page's user waits for, in Chromium on this machine, WebGL on the processor. Longest block:
 * the longest task of the page's own thread that the browser tells of (those over 50 ms), 'none' when there was none.
 */
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
  } finally {
    await browser.close();
    await server.close();
    await rm(outDir, { recursive: true, force: true });
  }
}

async function benchDemo(browser: Browser, url: string): Promise<void> {
  const opened = await openPage(browser, 'about:blank', { serviceWorkers: 'allow' });
  const { page } = opened;
  await page.addInitScript(watchTasks);
  const from = performance.now();
  const since = (): string => `${((performance.now() - from) / 1000).toFixed(1)} s`;
  await page.goto(url);
  await page
    .locator('scute-title-block .status')
    .filter({ hasText: /Rough|Refining/ })
    .first()
    .waitFor();
  say('demo: first numbers', since());
  await waitForAnswer(page, 300_000);
  say('demo: final numbers', since());
  say('demo: longest block while it opens', await longestTask(page));
  for (const stage of ['Parting', 'Coats', 'Mix', 'Sheet', 'Scan']) {
    await page
      .getByRole('button', { name: new RegExp(stage) })
      .first()
      .click();
    await page.waitForTimeout(1500);
    say(`demo: longest block on going to ${stage}`, await longestTask(page));
  }
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.context().setOffline(true);
  const reload = performance.now();
  await page.reload();
  await page.getByRole('main').waitFor();
  say('offline start, until the page stands', `${((performance.now() - reload) / 1000).toFixed(1)} s`);
  await opened.close();
}

declare global {
  interface Window {
    scuteTasksMs: number[];
  }
}

function watchTasks(): void {
  window.scuteTasksMs = [];
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) window.scuteTasksMs.push(entry.duration);
  }).observe({ type: 'longtask', buffered: true });
}

/** Since it was asked last. */
async function longestTask(page: Page): Promise<string> {
  const tasksMs = await page.evaluate(() => window.scuteTasksMs.splice(0));
  return tasksMs.length === 0 ? 'none over 50 ms' : `${Math.round(Math.max(...tasksMs))} ms`;
}

function say(what: string, value: string): void {
  console.log(`${what.padEnd(58)} ${value.padStart(9)}`);
}
