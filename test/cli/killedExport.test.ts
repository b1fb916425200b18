import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { writeWhole } from '../../src/cli/writeWhole.ts';

const NAMES = ['sheet.html', 'batches.csv', 'result.json', 'piece-A.stl'];
/** Large enough that writing them takes some milliseconds, in which the kill falls. */
const NEW_BYTES = 12_000_000;
const OLD = 'old\n';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-killed-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Writes the files over and over in a process of its own, and kills that so many ms after it began to. */
async function killWhileWriting(afterMs: number): Promise<void> {
  const writer = new URL('../../src/cli/writeWhole.ts', import.meta.url).href;
  const code = `
    const { writeWhole } = await import(${JSON.stringify(writer)});
    const content = new Uint8Array(${NEW_BYTES}).fill(78);
    const files = Object.fromEntries(${JSON.stringify(NAMES)}.map((name) => [name, content]));
    process.stdout.write('begun');
    for (;;) await writeWhole(${JSON.stringify(folder)}, files);`;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', code], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise((resolve) => child.once('exit', (_code, signal) => resolve(signal)));
  await new Promise<void>((resolve, reject) => {
    child.stdout.once('data', () => resolve());
    child.once('exit', () => reject(new Error('The writer ended by itself.')));
  });
  await new Promise((resolve) => setTimeout(resolve, afterMs));
  child.kill('SIGKILL');
  expect(await ended).toBe('SIGKILL');
}

it('killed in the middle of writing: each file is whole, the old one or the new', async () => {
  let partsSeen = 0;
  for (const afterMs of [0, 2, 5, 9, 15, 30]) {
    for (const name of NAMES) writeFileSync(join(folder, name), OLD);
    await killWhileWriting(afterMs);
    for (const name of NAMES) {
      const bytes = readFileSync(join(folder, name));
      const isOld = bytes.toString('latin1', 0, 8) === OLD;
      const isNew = bytes.length === NEW_BYTES && bytes.every((byte) => byte === 78);
      expect(isOld || isNew, `${name}, killed after ${afterMs} ms: ${bytes.length} bytes`).toBe(true);
    }
    partsSeen += readdirSync(folder).length - NAMES.length;
  }
  // Or no kill fell into the writing, and nothing was tried.
  expect(partsSeen).toBeGreaterThan(0);
  await writeWhole(folder, Object.fromEntries(NAMES.map((name) => [name, 'new'])));
  expect(readdirSync(folder).sort()).toEqual([...NAMES].sort());
}, 120_000);
