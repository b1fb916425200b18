import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';
import type { ScanReport } from '../../src/core/PlanResult.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { encode } from '../io/sampleFiles.ts';
import { glbOf, gltfParts, objOf, simple3mf } from '../io/sampleModels.ts';

let folder = '';
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'scute-formats-'));
  const stl = readFileSync(new URL('../fixtures/goblet.stl', import.meta.url));
  const { mesh } = await openMesh(new Uint8Array(stl), 'goblet.stl');
  const { json, binary } = gltfParts(mesh);
  writeFileSync(join(folder, 'goblet.stl'), stl);
  writeFileSync(join(folder, 'goblet.obj'), encode(objOf(mesh)));
  writeFileSync(join(folder, 'goblet.glb'), glbOf(json, binary));
  writeFileSync(join(folder, 'goblet.3mf'), simple3mf(mesh, 'unit="centimeter"'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function check(file: string, ...more: readonly string[]): Promise<ScanReport> {
  let out = '';
  const code = await runCommand(['check', join(folder, file), '--json', ...more], {
    out: {
      write: (text) => {
        out += text;
      },
    },
    err: { write: () => {} },
    signal: new AbortController().signal,
  });
  expect(code).toBe(0);
  return JSON.parse(out).scan;
}

it('scute check tells the same of one scan in four formats', async () => {
  const stl = await check('goblet.stl', '--unit', 'mm');
  for (const file of ['goblet.obj', 'goblet.glb', 'goblet.3mf']) {
    expect(await check(file, '--unit', 'mm')).toEqual(stl);
  }
});

it('scute check takes the unit that the file names: a 3MF in centimetres, a GLB in metres', async () => {
  const stl = await check('goblet.stl', '--unit', 'mm');
  for (const [file, unit, factor] of [
    ['goblet.3mf', 'cm', 10],
    ['goblet.glb', 'm', 1000],
  ] as const) {
    const scan = await check(file);
    expect(scan.unit).toBe(unit);
    scan.sizeMm.forEach((mm, axis) => {
      expect(mm).toBeCloseTo(factor * stl.sizeMm[axis], 6);
    });
    expect(scan.warnings.map(({ code }) => code)).toContain('unit-from-file');
  }
});
