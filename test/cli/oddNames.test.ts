import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { box } from '../fixtures/shapes.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-odd-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(...args: string[]) {
  let out = '';
  let err = '';
  const code = await runCommand(args, {
    out: { write: (text) => (out += text) },
    err: { write: (text) => (err += text) },
    signal: new AbortController().signal,
  });
  return { code, out, err };
}

/** What may come to a terminal: letters and line feeds, nothing that it would obey. */
const STEERS = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;
const expectPlain = (text: string) => {
  for (const line of text.split('\n'))
    expect(JSON.stringify(line)).toBe(JSON.stringify(line.replace(STEERS, '')));
};

/** Names that a file system takes, and shells, terminals or careless code do not. */
const NAMES = [
  'with blanks.stl',
  `it's "quoted".stl`,
  'two\nlines.stl',
  '\u001b[31mred\u0007.stl',
  'turned \u202Egnp.stl',
  'Bu\u0308ste \u50cf \u{1f600}.stl',
  '$(touch x); rm *.stl',
  '%s%n.stl',
  'back\\slash:?*|<>.stl',
  '.stl',
  ' ',
  // 255 bytes, the most that a name may have.
  `${'x'.repeat(251)}.stl`,
];

describe('file names with odd characters', () => {
  it('a scan of any name is read; what is said of it cannot steer a terminal', async () => {
    const bytes = writeStl(box(60, 40, 30));
    for (const name of NAMES) {
      const path = join(folder, name);
      writeFileSync(path, bytes);
      const tables = await run('check', path);
      expect(tables.code, name).toBe(0);
      expectPlain(tables.out);
      expectPlain(tables.err);
      const { scan } = JSON.parse((await run('check', path, '--json')).out);
      expect(scan.triangles, name).toBe(12);
    }
  });

  it('a name that begins with a hyphen is one behind --, or with its folder, and an unknown option without', async () => {
    const before = process.cwd();
    const name = '-quiet.stl';
    writeFileSync(join(folder, name), writeStl(box(60, 40, 30)));
    process.chdir(folder);
    try {
      expect((await run('check', '--json', name)).code).toBe(2);
      expect((await run('check', '--json', '--', name)).code).toBe(0);
      expect((await run('check', '--json', `./${name}`)).code).toBe(0);
    } finally {
      process.chdir(before);
    }
  });

  it('what is refused is named in plain letters: missing, broken, no JSON, too long, a folder, an unknown option', async () => {
    const broken = join(folder, 'bro\u001b[2Jken\n.stl');
    writeFileSync(broken, 'solid\nfacet no');
    const plan = join(folder, 'pl\u001b[2Jan.json');
    writeFileSync(plan, '{');
    const cases: readonly (readonly [number, readonly string[]])[] = [
      [3, ['check', join(folder, 'mis\u001b[2Jsing\n.stl')]],
      [3, ['check', broken]],
      [3, ['check', plan]],
      [3, ['check', `${folder}/${'z'.repeat(256)}.stl`]],
      [3, ['check', `${folder}/nul\0.stl`]],
      [3, ['check', folder]],
      [2, ['check', broken, '--op\u001b[2Jtion\nx']],
      [2, ['plan', broken, '--out', broken]],
    ];
    for (const [code, args] of cases) {
      const ending = await run(...args);
      expect(ending.code, JSON.stringify(args)).toBe(code);
      expect(ending.out).toBe('');
      expect(ending.err).not.toBe('');
      expectPlain(ending.err);
    }
  });

  it('a folder of any name is written to', async () => {
    const scan = join(folder, 'plain.stl');
    writeFileSync(scan, writeStl(box(60, 40, 30)));
    for (const name of ['new "folder"\n$(x)', '-out', 'y'.repeat(255), '\u50cf']) {
      const out = join(folder, name);
      expect((await run('check', scan, '--quiet', '--out', out)).code, name).toBe(0);
      expect(readdirSync(out).sort()).toEqual(['check.json', 'report.txt']);
    }
  });
});
