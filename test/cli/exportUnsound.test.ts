import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it, vi } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

/** The coats of every piece come out with their first face missing. */
vi.mock('../../src/core/shell/marchTets.ts', async (load) => {
  const original = await load<typeof import('../../src/core/shell/marchTets.ts')>();
  return {
    marchTets: async (...args: Parameters<typeof original.marchTets>) => {
      const mesh = await original.marchTets(...args);
      return mesh && { positions: mesh.positions, indices: mesh.indices.slice(3) };
    },
  };
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
