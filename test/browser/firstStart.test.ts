import { readFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { computePlan } from '../../src/core/computePlan.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { launchBrowser } from './launchBrowser.ts';
import { expectQuiet, openPage } from './openPage.ts';
import { openStage, readMassG, readPieces, readRow, readShellMass, type ShownAmount } from './readFigures.ts';
import { waitForAnswer } from './waitForAnswer.ts';

const DEMO = new URL('../../assets/demo/', import.meta.url);

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

test('first start: the demo is planned, with the same masses as the plan function gives in Node', async () => {
  const opened = await openPage(browser, inject('pageUrl'));
  const { page } = opened;
  await waitForAnswer(page, 280_000);
  const shell = await readShellMass(page);
  const pieces = await readPieces(page);
  await openStage(page, 'Coats');
  const face = readMassG((await readRow(page, 'Face'))[1]);
  expect(opened.requests.length).toBeGreaterThan(3);
  expectQuiet(opened);
  await opened.close();

  const plan = parsePlan(JSON.parse(await readFile(new URL('fountain-fish.scute.json', DEMO), 'utf8')));
  const bytes = await readFile(new URL('fountain-fish.ply', DEMO));
  const { mesh, notes } = await openMesh(new Uint8Array(bytes).buffer, 'fountain-fish.ply', new Checkpoint());
  const result = await computePlan(plan, mesh, { fileNotes: notes, until: 'amounts' });
  // Both run the same function, in two engines: what differs is the printing, and the last bits of sines and cosines.
  const engineShare = 1e-9;
  expectShown(shell, result.shell.massG, engineShare);
  expect(pieces.map((p) => p.name)).toEqual(result.pieces.map((p) => p.name));
  for (const [i, piece] of pieces.entries()) {
    expectShown(piece.mass, result.pieces[i].massG, engineShare);
  }
  expectShown(
    face,
    result.pieces.reduce((sum, p) => sum + p.coats[0].massG, 0),
    engineShare,
  );
}, 400_000);

function expectShown(shown: ShownAmount, trueG: number, share: number): void {
  const allowedG = shown.rounding + share * trueG;
  expect(Math.abs(shown.value - trueG), `${shown.text} for ${trueG} g`).toBeLessThanOrEqual(allowedG);
}
