import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { serialisePlan } from '../../src/core/plan/serialisePlan.ts';
import { writePlanBundle } from '../../src/io/writePlanBundle.ts';
import { box, joined, moved } from '../fixtures/shapes.ts';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const SLOW_MS = 120_000;

/** A block on its board, mm: its shell has an exact answer. */
const BLOCK = [60, 40, 30] as const;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-cli-'));
  writeFileSync(join(folder, 'block.stl'), blockStl());
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Ending {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the command in this process; words that name a file of the test's folder are made whole. */
async function run(args: readonly string[], signal = new AbortController().signal): Promise<Ending> {
  let out = '';
  let err = '';
  const code = await runCommand(
    args.map((word) => (/^\w+(\.\w+)+$/.test(word) && !/^\d/.test(word) ? join(folder, word) : word)),
    {
      out: {
        write: (text) => {
          out += text;
        },
      },
      err: {
        write: (text) => {
          err += text;
        },
      },
      signal,
    },
  );
  return { code, out, err };
}

/** Runs the command as a process of its own, as a shell would. */
function spawnCommand(args: readonly string[]): Promise<Ending> {
  return new Promise((resolve) => {
    const child = spawn(
      process.execPath,
      ['--import', join(ROOT, 'node_modules/tsx/dist/loader.mjs'), join(ROOT, 'src/cli/main.ts'), ...args],
      { cwd: folder },
    );
    let out = '';
    let err = '';
    child.stdout.on('data', (chunk) => {
      out += chunk;
    });
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    child.on('close', (code) => resolve({ code, out, err }));
  });
}

function asciiStl({ positions: p, indices }: TriMesh): string {
  const vertex = (v: number): string => `vertex ${p[3 * v]} ${p[3 * v + 1]} ${p[3 * v + 2]}`;
  const facets: string[] = [];
  for (let i = 0; i < indices.length; i += 3) {
    const loop = [0, 1, 2].map((k) => vertex(indices[i + k])).join('\n');
    facets.push(`facet normal 0 0 0\nouter loop\n${loop}\nendloop\nendfacet`);
  }
  return `solid shape\n${facets.join('\n')}\nendsolid shape\n`;
}

function blockStl(): Uint8Array {
  const [a, b, c] = BLOCK;
  const corner = (n: number): number[] => [n & 1 ? a : 0, n & 2 ? b : 0, n & 4 ? c : 0];
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const tris = quads.flatMap(([p, q, r, s]) => [
    [p, q, r],
    [p, r, s],
  ]);
  const bytes = new Uint8Array(84 + 50 * tris.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, tris.length, true);
  tris.forEach((tri, t) => {
    tri.flatMap(corner).forEach((x, n) => {
      view.setFloat32(84 + 50 * t + 12 + 4 * n, x, true);
    });
  });
  return bytes;
}

/** Half of a parallel body over the board: faces, quarter-round edges, eighth-ball corners. Steiner 1840, on a box. */
function blockShellMm3(t: number): number {
  const [a, b, h] = BLOCK;
  const faces = a * b + 2 * (a + b) * h;
  const edges = 4 * h + 2 * (a + b);
  return t * faces + ((Math.PI * t * t) / 4) * edges + ((4 / 8) * 4 * Math.PI * t ** 3) / 3;
}

describe('scute plan', () => {
  it(
    'prints nothing but JSON on standard output, and its bound covers Steiner’s answer for a block',
    async () => {
      const { code, out, err } = await spawnCommand([
        'plan',
        'block.stl',
        '--unit',
        'mm',
        '--up',
        'z',
        '--coats',
        '4,5.5',
        '--no-flange',
        '--resolution',
        '1',
        '--json',
      ]);
      expect(err).not.toMatch(/\n\s+at /);
      expect(code).toBe(0);
      const result = JSON.parse(out);
      expect(result.schema).toBe('scute-result/1');
      expect(Math.abs(result.shell.volumeMm3 - blockShellMm3(9.5))).toBeLessThanOrEqual(
        result.shell.volumeErrorMm3,
      );
      // The bound says something: it is under a hundredth part.
      expect(result.shell.volumeErrorMm3).toBeLessThan(0.01 * result.shell.volumeMm3);
      expect(result.pieces).toHaveLength(2);
      expect(result.pieces[0].coats.map((coat: { toMm: number }) => coat.toMm)).toEqual([4, 9.5]);
    },
    SLOW_MS,
  );

  it(
    'takes a saved plan with its scan beside it, writes both files whole, prints the tables',
    async () => {
      const plan = newPlan('block.stl');
      const saved = {
        ...plan,
        job: { name: 'A block', shop: 'Test bench' },
        scan: { ...plan.scan, unit: 'mm' as const, up: 'z' as const },
        resolutionMm: 2,
      };
      writeFileSync(join(folder, 'block.scute.json'), serialisePlan(saved));
      const { code, out, err } = await run([
        'plan',
        'block.scute.json',
        '--out',
        join(folder, 'answer'),
        '--quiet',
      ]);
      expect(err).toBe('');
      expect(code).toBe(0);
      expect(out).toMatch(/^A block, Test bench\n=+\n/);
      expect(out).not.toMatch(/Not worked out yet/);
      expect(out).toMatch(/Batches, in the order of the work/);
      expect(readdirSync(join(folder, 'answer')).sort()).toEqual(['report.txt', 'result.json']);
      expect(readFileSync(join(folder, 'answer', 'report.txt'), 'utf8')).toBe(out);
      const result = JSON.parse(readFileSync(join(folder, 'answer', 'result.json'), 'utf8'));
      const sum = result.pieces.reduce((total: number, piece: { massG: number }) => total + piece.massG, 0);
      expect(sum / result.shell.massG).toBeCloseTo(1, 9);
    },
    SLOW_MS,
  );
});

describe('one file of plan and scan', () => {
  const saved = {
    ...newPlan('block.stl'),
    job: { name: 'A block', shop: '' },
    resolutionMm: 2,
  };
  const pack = (planText: string) =>
    Buffer.from(
      writePlanBundle({
        planText,
        scanName: 'block.stl',
        scanBytes: Uint8Array.from(blockStl()).buffer,
        picture: null,
      }),
    );

  it(
    'gives the same answer as the plan with the scan beside it',
    async () => {
      const answers: unknown[] = [];
      writeFileSync(join(folder, 'two.scute.json'), serialisePlan(saved));
      writeFileSync(join(folder, 'one.scute'), pack(serialisePlan(saved)));
      for (const file of ['two.scute.json', 'one.scute']) {
        const { code, out } = await run(['plan', file, '--json', '--quiet']);
        expect(code, file).toBe(0);
        const { timesMs: _timesMs, ...answer } = JSON.parse(out);
        answers.push(answer);
      }
      expect(answers[1]).toEqual(answers[0]);
    },
    SLOW_MS,
  );

  it('that is cut off, or holds no plan, or one of a later version, is refused with why', async () => {
    const whole = pack(serialisePlan(saved));
    writeFileSync(join(folder, 'cut.scute'), whole.subarray(0, whole.length - 30));
    writeFileSync(join(folder, 'odd.scute'), pack('not json'));
    writeFileSync(join(folder, 'new.scute'), pack('{"schema":"scute-plan/99"}'));
    const cases: readonly (readonly [string, number, RegExp])[] = [
      ['cut.scute', 3, /cut off/],
      ['odd.scute', 3, /not JSON/],
      ['new.scute', 4, /later version/],
    ];
    for (const [file, expected, why] of cases) {
      const { code, out, err } = await run(['plan', file, '--json']);
      expect(code, file).toBe(expected);
      expect(out).toBe('');
      expect(err).toMatch(why);
    }
  });
});

describe('scute suggest', () => {
  it(
    'prints nothing but JSON on standard output, and writes plans that `scute plan` takes',
    async () => {
      const out = join(folder, 'suggested');
      const suggested = await run([
        ...['suggest', 'block.stl', '--unit', 'mm', '--up', 'z', '--pieces', '2', '--json', '--quiet'],
        ...['--out', out],
      ]);
      expect([suggested.code, suggested.err]).toEqual([0, '']);
      const answer = JSON.parse(suggested.out);
      expect(answer.schema).toBe('scute-suggestions/1');
      expect(answer.suggestions.length).toBeGreaterThan(0);
      answer.suggestions.forEach((suggestion: Record<string, unknown>, n: number) => {
        expect(suggestion['rank']).toBe(n + 1);
        for (const key of ['why', 'pieces', 'partingLines']) expect(suggestion).toHaveProperty(key);
      });
      const best = answer.suggestions[0];
      expect(Object.keys(best.pieces[0])).toEqual(
        expect.arrayContaining(['id', 'pull', 'areaMm2', 'massG', 'undercut']),
      );
      // A block comes free sideways.
      expect(best.maxDepthMm).toBeLessThan(1.5);
      expect(readdirSync(out).sort()).toEqual([
        'report.txt',
        ...answer.suggestions.map((_: unknown, n: number) => `suggestion-${n + 1}.scute.json`),
        'suggestions.json',
      ]);

      writeFileSync(join(out, 'block.stl'), blockStl());
      const planned = await run([
        ...['plan', join(out, 'suggestion-1.scute.json'), '--resolution', '2', '--json', '--quiet'],
      ]);
      expect(planned.code).toBe(0);
      const { pieces, partingLines } = JSON.parse(planned.out);
      expect(pieces.length).toBe(best.pieces.length);
      const lengthOf = (lines: { lengthMm: number }[]): number =>
        lines.reduce((sum, line) => sum + line.lengthMm, 0);
      expect(lengthOf(partingLines)).toBeCloseTo(lengthOf(best.partingLines), 6);
      // The estimate is good to some percent on a convex body.
      pieces.forEach((piece: { areaMm2: number; massG: number }, n: number) => {
        expect(best.pieces[n].areaMm2 / piece.areaMm2).toBeCloseTo(1, 6);
        expect(Math.abs(best.pieces[n].massG / piece.massG - 1)).toBeLessThan(0.12);
      });
    },
    SLOW_MS,
  );

  it(
    'prints a table of all and a section for each',
    async () => {
      const { code, out } = await run(['suggest', 'block.stl', '--unit', 'mm', '--up', 'z', '--pieces', '2']);
      expect(code).toBe(0);
      expect(out).toMatch(/Rank +Pieces +Deepest lock/);
      expect(out).toMatch(/1\. 2 pieces/);
    },
    SLOW_MS,
  );
});

describe('scute check', () => {
  it(
    'says what the scan is, by table and by JSON',
    async () => {
      const [table, json] = await Promise.all([
        run(['check', 'block.stl', '--unit', 'mm', '--up', 'z']),
        run(['check', 'block.stl', '--unit', 'mm', '--up', 'z', '--json']),
      ]);
      expect([table.code, json.code]).toEqual([0, 0]);
      expect(table.out).toMatch(/60\.0 mm × 40\.0 mm × 30\.0 mm/);
      const answer = JSON.parse(json.out);
      expect(answer.schema).toBe('scute-check/1');
      expect(answer.scan.triangles).toBe(12);
      expect(answer.scan.sizeMm).toEqual([60, 40, 30]);
    },
    SLOW_MS,
  );

  it(
    'counts faces that pass through others: a bar through a block, ASCII STL',
    async () => {
      // The bar's eight side faces, and one face of the block above and one below: its diagonals keep clear of the bar.
      writeFileSync(
        join(folder, 'barred.stl'),
        asciiStl(joined(box(40, 40, 20), moved(box(2, 2, 40), [17, 23, -10]))),
      );
      const { code, out } = await run([
        'check',
        'barred.stl',
        '--unit',
        'mm',
        '--up',
        'z',
        '--board',
        'none',
        '--json',
      ]);
      expect(code).toBe(0);
      const warnings: { code: string; count?: number }[] = JSON.parse(out).scan.warnings;
      expect(warnings.find((note) => note.code === 'faces-crossing')?.count).toBe(8 + 2);
    },
    SLOW_MS,
  );
});

it(
  'scute check --leave: what is left as it is stands in the table; other codes are refused with those that can be left',
  async () => {
    writeFileSync(
      join(folder, 'crumbed.stl'),
      asciiStl(joined(box(40, 40, 20), moved(box(1, 1, 1), [60, 0, 5]))),
    );
    const call = ['check', 'crumbed.stl', '--unit', 'mm', '--up', 'z', '--leave'];
    const { code, out } = await run([...call, 'holes-filled,crumbs-dropped']);
    expect(code).toBe(0);
    expect(out.replace(/\s+/g, ' ')).toMatch(/Left as it is\W+1 loose crumb of less than 1.00 % .* left in/);
    const refused = await run([...call, 'welded-near']);
    expect(refused.code).toBe(2);
    expect(refused.err).toMatch(
      /“welded-near” is no repair that can be left undone; those are crumbs-dropped/,
    );
  },
  SLOW_MS,
);

/** A metric quantity in what is printed; weights on the scale keep their grams, and a size is given both ways. */
const METRIC_QUANTITY = /\d[ \u00a0](mm|cm|kg|ml|L|cm²|m²|kPa|MPa|N|kN)(?![²³\w])/;

describe('--units us', () => {
  it(
    'prints the same answers in inches and pounds, and leaves the JSON as it is',
    async () => {
      const block = ['block.stl', '--unit', 'mm', '--up', 'z'];
      const plan = ['plan', ...block, '--resolution', '2', '--quiet'];
      const [metric, us, json, usJson] = [
        await run(plan),
        await run([...plan, '--units', 'us']),
        await run([...plan, '--json']),
        await run([...plan, '--units', 'us', '--json']),
      ];
      expect([metric.code, us.code, json.code, usJson.code]).toEqual([0, 0, 0, 0]);
      // Own arithmetic: 60, 40 and 30 mm are 2 23/64, 1 37/64 and 1 3/16 in; above an inch to the nearest sixteenth.
      expect(us.out).toMatch(/Size +2 3\/8 in × 1 9\/16 in × 1 3\/16 in \(60\.0 mm × 40\.0 mm × 30\.0 mm\)/);
      expect(metric.out).toMatch(METRIC_QUANTITY);
      const withoutSize = us.out.replace(/^Size .*$/m, '');
      expect(withoutSize.match(new RegExp(`.*${METRIC_QUANTITY.source}.*`))).toBeNull();
      // One mass, read off both tables. Own arithmetic: an ounce is 28.349523125 g; this small shell is below a pound.
      const massG = JSON.parse(json.out).shell.massG;
      expect(massG).toBeLessThan(453);
      expect(metric.out).toContain(`${massG.toFixed(0)} g`);
      expect(us.out).toContain(`${(massG / 28.349523125).toFixed(1)} oz`);
      const { timesMs: _a, ...answer } = JSON.parse(json.out);
      const { timesMs: _b, ...usAnswer } = JSON.parse(usJson.out);
      expect(usAnswer).toEqual(answer);

      const check = await run(['check', ...block, '--units', 'us']);
      expect(check.out).toMatch(/Size +2 3\/8 in/);
      const suggest = await run(['suggest', ...block, '--pieces', '2', '--units', 'us', '--quiet']);
      expect(suggest.code).toBe(0);
      expect(suggest.out).toMatch(/ in²/);
      expect(suggest.out.match(METRIC_QUANTITY)).toBeNull();
    },
    SLOW_MS,
  );

  it.each(['plan', 'check', 'suggest', 'export'])('%s refuses any other system', async (command) => {
    const { code, out, err } = await run([command, 'block.stl', '--units', 'furlongs']);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/--units.*metric, us/);
  });
});

describe('ways to fail', () => {
  it(
    'a process ends with the code and one line on standard error',
    async () => {
      const { code, out, err } = await spawnCommand(['check', 'none.stl', '--json']);
      expect([code, out]).toEqual([3, '']);
      expect(err).toMatch(/^scute: none\.stl cannot be read: there is no such file\. .*\n$/);
    },
    SLOW_MS,
  );

  it('a cancelled plan writes nothing', async () => {
    const cancel = new AbortController();
    cancel.abort();
    const ended = await run(['plan', 'block.stl', '--out', join(folder, 'never')], cancel.signal);
    expect(ended).toEqual({ code: 130, out: '', err: 'scute: Cancelled; nothing was written.\n' });
    expect(readdirSync(folder)).not.toContain('never');
  });

  const cases: [string, string[], number, RegExp][] = [
    ['no command', [], 2, /Usage: scute/],
    ['an unknown option', ['plan', 'block.stl', '--colour'], 2, /--colour/],
    ['a value out of range', ['plan', 'block.stl', '--scale', '0'], 2, /--scale is 0/],
    ['an unknown material', ['plan', 'block.stl', '--material', 'cheese'], 2, /two-part-polymer-gypsum/],
    ['a command that there is not', ['weigh', 'block.stl'], 2, /unknown command 'weigh'/],
    [
      'numbers of pieces that cannot be',
      ['suggest', 'block.stl', '--pieces', '2,none'],
      2,
      /--pieces: “none”/,
    ],
    ['a missing file', ['plan', 'none.stl'], 3, /no such file/],
    ['a picture renamed', ['check', 'picture.stl'], 3, /picture\.stl/],
    ['a scan cut short', ['plan', 'short.stl', '--json'], 3, /short\.stl|byte/],
    ['a JSON file that is no plan', ['plan', 'other.json'], 4, /not a plan/],
    [
      'a board above everything',
      ['plan', 'block.stl', '--unit', 'mm', '--up', 'z', '--board', '500'],
      4,
      /board/,
    ],
  ];
  it.each(cases)(
    '%s',
    async (_, args, code, sentence) => {
      writeFileSync(
        join(folder, 'picture.stl'),
        Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13),
      );
      writeFileSync(join(folder, 'short.stl'), blockStl().slice(0, 500));
      writeFileSync(join(folder, 'other.json'), '{"name":"x"}');
      const ended = await run(args);
      expect(ended.out).toBe('');
      expect(ended.err).toMatch(sentence);
      expect(ended.err).not.toMatch(/\n\s+at .*:\d+/);
      expect(ended.code).toBe(code);
    },
    SLOW_MS,
  );

  it(
    '--help of each command answers on standard output',
    async () => {
      for (const command of ['plan', 'check', 'suggest', 'export']) {
        const { code, out, err } = await run([command, '--help']);
        expect([code, err]).toEqual([0, '']);
        expect(out).toContain(`Usage: scute ${command}`);
      }
    },
    SLOW_MS,
  );
});
