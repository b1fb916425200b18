import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { writeStl } from '../../src/io/writeStl.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

const MARCH = '../../src/core/shell/marchTets.ts';
let runCommand: typeof import('../../src/cli/runCommand.ts').runCommand;

/** The coats of every piece come out with their first face missing. Modules are shared between files: loaded anew here, and after. */
beforeAll(async () => {
  vi.resetModules();
  vi.doMock(MARCH, async (load) => {
    const original = await load<typeof import('../../src/core/shell/marchTets.ts')>();
    return {
      marchTets: async (...args: Parameters<typeof original.marchTets>) => {
        const mesh = await original.marchTets(...args);
        return mesh && { positions: mesh.positions, indices: mesh.indices.slice(3) };
      },
    };
  });
  ({ runCommand } = await import('../../src/cli/runCommand.ts'));
});
afterAll(() => {
  vi.doUnmock(MARCH);
  vi.resetModules();
});

const folder = mkdtempSync(join(tmpdir(), 'scute-unsound-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('a piece that gives no closed solid says so, and nothing is written', async () => {
  writeFileSync(join(folder, 'dome.stl'), writeStl(openHalfSphere(40, 12), 'dome'));
  const out = join(folder, 'out');
  let err = '';
  const words = ['export', join(folder, 'dome.stl'), '--out', out, '--unit', 'mm', '--up', 'z'];
  const code = await runCommand([...words, '--resolution', '3'], {
    out: { write: () => true },
    err: {
      write: (text) => {
        err += text;
      },
    },
    signal: new AbortController().signal,
  });
  expect(code).toBe(4);
  expect(err).toMatch(/Piece A \(\w+\) gives no closed solid \(Not manifold\)/);
  expect(existsSync(out)).toBe(false);
}, 120_000);
