import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readMaterial } from '../../src/cli/readMaterial.ts';
import { DEFAULT_MATERIAL } from '../../src/core/material/builtInMaterials.ts';

// A file with a byte order mark was called “not JSON”, and what is not JSON was told without a place or a way on.
const ASSET = new URL('../../assets/material/two-part-polymer-gypsum.json', import.meta.url);
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-material-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(content: string): string {
  const path = join(folder, 'own.json');
  writeFileSync(path, content);
  return path;
}

it('reads a material file that begins with a byte order mark', async () => {
  const text = readFileSync(ASSET, 'utf8');
  await expect(readMaterial(fileOf(`\ufeff${text}`))).resolves.toEqual(DEFAULT_MATERIAL);
});

it.each([
  ['', /own\.json: the file is empty\. Correct it, or start from a copy of assets\/material/],
  ['{\n"name": "a",\n}', /the file is not JSON, from line 3 on\. Correct it/],
  ['density: 2', /the file is not JSON.*Correct it/],
])('says where a file that is not JSON goes wrong, and what to do', async (content, words) => {
  await expect(readMaterial(fileOf(content))).rejects.toThrow(words);
});
