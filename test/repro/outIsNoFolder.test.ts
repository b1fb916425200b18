import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';

// `plan --out FILE` worked the whole plan out and then gave the system's own words (EEXIST ... mkdir).
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-out-'));
  writeFileSync(join(folder, 'taken'), 'x');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function call(command: string, out: string) {
  let err = '';
  // The scan is not there: what is off about --out is said before it is looked for.
  const code = await runCommand([command, join(folder, 'none.stl'), '--out', out], {
    out: { write: () => true },
    err: { write: (text) => (err += text) },
    signal: new AbortController().signal,
  });
  return { code, err };
}

it.each(['plan', 'check', 'suggest', 'export'])('%s says at once that --out is a file', async (command) => {
  const { code, err } = await call(command, join(folder, 'taken'));
  expect(code).toBe(2);
  expect(err).toContain('this is a file, and a folder is needed. Name another.');
});

it.each(['plan', 'check', 'suggest', 'export'])(
  '%s says at once that --out leads through a file, or is empty',
  async (command) => {
    const through = await call(command, join(folder, 'taken', 'below'));
    expect(through.code).toBe(2);
    expect(through.err).toContain('a part of this path is a file');
    const empty = await call(command, '');
    expect(empty.code).toBe(2);
    expect(empty.err).toContain('no folder was named');
  },
);
