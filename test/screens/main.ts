import { mkdir, readFile, rm } from 'node:fs/promises';
import { basename, extname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { launchBrowser } from '../browser/launchBrowser.ts';
import { openPage } from '../browser/openPage.ts';
import { servePage } from '../browser/servePage.ts';
import { waitForAnswer } from '../browser/waitForAnswer.ts';
import { BENCH_STATES } from './benchStates.ts';
import { lookAslant } from './lookAslant.ts';
import { LOOK_STATES } from './lookStates.ts';
import { openScan } from './openScan.ts';
import { putHintsAway } from './putHintsAway.ts';
import { ScreenShooter } from './ScreenShooter.ts';
import { SHEET_STATES } from './sheetStates.ts';
import { shootFirstVisit } from './shootFirstVisit.ts';
import { STAGE_STATES } from './stageStates.ts';
import { TOOL_STATES } from './toolStates.ts';

/**
 * `npm run screens [-- [--only PATTERN] SCAN ...]`: pictures of every stage and state into ./screens, of the demo and of each
 * scan or plan file named, in four windows. PATTERN is a regular expression that a picture's name has in it, such as
 * "390x844.*bench"; the other pictures are left as they are. A state that cannot be reached is named, the run goes on, and
 * the exit code is 1.
 */

const OUT = fileURLToPath(new URL('../../screens', import.meta.url));
/** A large scan at fine steps may take this long on a slow machine. */
const ANSWER_PATIENCE_MS = 600_000;
/** For anything that is to come into sight, and for a picture of it: shells drawn without a graphics card take their time. */
const PATIENCE_MS = 60_000;

const STATES = [...STAGE_STATES, ...TOOL_STATES, ...LOOK_STATES, ...SHEET_STATES, ...BENCH_STATES];

const { values, positionals } = parseArgs({ options: { only: { type: 'string' } }, allowPositionals: true });
const only = values.only === undefined ? null : new RegExp(values.only);
const scans = positionals.map((path) => resolve(path));
if (!only) await rm(OUT, { recursive: true, force: true });
await mkdir(OUT, { recursive: true });
const shooter = new ScreenShooter(OUT, only);
const troubles: string[] = [];
const served = await servePage();
let browser: Browser | undefined;
try {
  browser = await launchBrowser();
  troubles.push(...(await shootFirstVisit(browser, served.url, shooter)));
  for (const scan of [null, ...scans]) await shootScan(browser, scan);
} finally {
  await browser?.close();
  await served.close();
}
for (const trouble of troubles) console.error(trouble);
for (const missed of shooter.missed) console.error(`Not reached: ${missed}`);
if (troubles.length + shooter.missed.length > 0) process.exitCode = 1;

/** One page for all windows and schemes: the answer is worked out once, then only looked at. */
async function shootScan(running: Browser, scan: string | null): Promise<void> {
  const subject = scan === null ? 'demo' : basename(scan, extname(scan));
  const opened = await openPage(running, served.url);
  const { page } = opened;
  page.setDefaultTimeout(PATIENCE_MS);
  if (scan !== null) await openScan(page, basename(scan), await readFile(scan));
  const makeReady = async (one: Page) => {
    await waitForAnswer(one, ANSWER_PATIENCE_MS);
    await putHintsAway(one);
    await lookAslant(one);
  };
  await makeReady(page);
  await shooter.shoot(page, subject, STATES, async (one) => {
    await one.reload();
    await makeReady(one);
  });
  await opened.close();
  troubles.push(...opened.troubles.map((trouble) => `${subject}: ${trouble}`));
}
