import { mkdir, readFile, rm } from 'node:fs/promises';
import { basename, extname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { launchBrowser } from '../browser/launchBrowser.ts';
import { openPage } from '../browser/openPage.ts';
import { servePage } from '../browser/servePage.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';
import { openScan } from './openScan.ts';
import { shootStates } from './shootStates.ts';

/**
 * `npm run screens [-- SCAN ...]`: pictures of every stage and state into ./screens, of the demo and of each scan or
 * plan file named, on a laptop and on an upright tablet, light and dark.
 */

const OUT = fileURLToPath(new URL('../../screens', import.meta.url));

const WINDOWS = [
  { name: '1440x900', width: 1440, height: 900 },
  { name: '820x1180', width: 820, height: 1180 },
] as const;
/** A large scan at fine steps may take this long on a slow machine. */
const ANSWER_PATIENCE_MS = 600_000;
const SCHEMES = ['light', 'dark'] as const;

const scans = process.argv.slice(2).map((path) => resolve(path));
await rm(OUT, { recursive: true, force: true });
await mkdir(OUT, { recursive: true });
const served = await servePage();
let browser: Browser | undefined;
try {
  browser = await launchBrowser();
  for (const scan of [null, ...scans]) await shootScan(browser, scan);
} finally {
  await browser?.close();
  await served.close();
}

/** One page for all windows and schemes: the answer is worked out once, then only looked at. */
async function shootScan(running: Browser, scan: string | null): Promise<void> {
  const subject = scan === null ? 'demo' : basename(scan, extname(scan));
  const { page, troubles, close } = await openPage(running, served.url);
  if (scan !== null) await openScan(page, basename(scan), await readFile(scan));
  await waitForAnswer(page, ANSWER_PATIENCE_MS);
  for (const { name, width, height } of WINDOWS) {
    for (const scheme of SCHEMES) {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme: scheme });
      await shootStates(page, (state) => join(OUT, `${subject}-${name}-${scheme}-${state}.png`));
      console.log(`${subject}, ${name}, ${scheme}: done`);
    }
  }
  await close();
  for (const trouble of troubles) console.error(`${subject}: ${trouble}`);
  if (troubles.length > 0) process.exitCode = 1;
}
