import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readStartDate } from '../../src/cli/readStartDate.ts';
import { runCommand } from '../../src/cli/runCommand.ts';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { PlanResult } from '../../src/core/PlanResult.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { expectValidMesh, volumeAlongX } from '../expectValidMesh.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { readHtml } from '../report/sheet/readHtml.ts';

const SLOW_MS = 120_000;
const FILES = [
  'batches.csv',
  'calendar.ics',
  'plan.scute.json',
  'report.txt',
  'result.json',
  'sheet.html',
  'templates.html',
];
const SOLIDS = ['piece-A-back.stl', 'piece-B-front.stl'];
const OPTIONS = ['--unit', 'mm', '--up', 'z', '--resolution', '2', '--pull', '270'];

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'scute-export-'));
  writeFileSync(join(folder, 'dome.stl'), writeStl(openHalfSphere(40, 12), 'dome'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function exportDome(
  out: string,
  more: readonly string[],
  signal = new AbortController().signal,
): Promise<{ readonly code: number; readonly out: string; readonly err: string }> {
  const told = { out: '', err: '' };
  const code = await runCommand(['export', join(folder, 'dome.stl'), '--out', out, ...OPTIONS, ...more], {
    out: {
      write: (text) => {
        told.out += text;
      },
    },
    err: {
      write: (text) => {
        told.err += text;
      },
    },
    signal,
  });
  return { code, ...told };
}

describe('scute export', () => {
  it(
    'writes the sheet and all that goes with it, of one and the same plan',
    async () => {
      const out = join(folder, 'a', 'b');
      const { code, out: told, err } = await exportDome(out, ['--start', '2026-12-01', '--quiet']);
      expect([code, err]).toEqual([0, '']);
      const expected = [...FILES, ...SOLIDS].sort();
      expect(readdirSync(out).sort()).toEqual(expected);
      expect(told.trim().split('\n').sort()).toEqual(expected);
      const read = (name: string): string => readFileSync(join(out, name), 'utf8');
      const result = JSON.parse(read('result.json')) as PlanResult;
      expect(result.day.startDate).toBe('2026-12-01');
      expect(parsePlan(JSON.parse(read('plan.scute.json'))).day.startDate).toBe('2026-12-01');
      const sheet = read('sheet.html');
      const { tags, text } = readHtml(sheet);
      expect(tags.filter((tag) => tag === 'image')).toHaveLength(4);
      expect(sheet).toContain('size:A4 portrait');
      expect(sheet).toContain('font/woff2');
      expect(result.batches.length).toBeGreaterThan(0);
      for (const batch of result.batches) {
        for (const { massG } of batch.steps) expect(text).toContain(String(Number(massG.toFixed(2))));
      }
      // On the sheet a number and its unit are held together.
      const plain = text.replaceAll('\u00a0', ' ');
      for (const { text: caution } of result.cautions)
        expect(plain).toContain(caution.replaceAll('\u00a0', ' '));
      // A head and a line a batch.
      expect(read('batches.csv').trim().split('\r\n')).toHaveLength(1 + result.batches.length);
      expect(read('calendar.ics').match(/^BEGIN:VEVENT/gm)).toHaveLength(result.schedule.length);
      expect(text).toContain('Tue 1 Dec');
      for (const [n, file] of SOLIDS.entries()) {
        const bytes = readFileSync(join(out, file));
        const { mesh, format } = await openMesh(Uint8Array.from(bytes).buffer, file, new Checkpoint());
        expect(format).toBe('STL binary');
        expectValidMesh(mesh);
        // Millimetres in the board frame; how near the two volumes must be is shown in test/core/shell/pieceSolids.test.ts.
        expect(Math.abs(volumeAlongX(mesh) / result.pieces[n].volumeMm3 - 1)).toBeLessThan(0.05);
      }
    },
    SLOW_MS,
  );

  it(
    'in US units on Letter; without a first day there is no calendar, and that is said',
    async () => {
      const out = join(folder, 'us');
      const { code, err } = await exportDome(out, ['--units', 'us', '--no-solids']);
      expect(code).toBe(0);
      expect(err).toContain('No calendar was written');
      expect(readdirSync(out).sort()).toEqual(FILES.filter((name) => name !== 'calendar.ics'));
      const sheet = readFileSync(join(out, 'sheet.html'), 'utf8');
      expect(sheet).toContain('size:letter portrait');
      expect(readHtml(sheet).text).toMatch(/\d lb|\d oz/);
    },
    SLOW_MS,
  );

  it('refuses a file where a folder is needed, before it plans anything', async () => {
    const { code, err, out } = await exportDome(join(folder, 'dome.stl'), []);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('this is a file, and a folder is needed');
    expect(readFileSync(join(folder, 'dome.stl')).length).toBeGreaterThan(84);
  });

  it.each([
    [['--start', '2026-02-30'], '--start'],
    [['--start', 'soon'], '--start'],
    [['--paper', 'a3'], '--paper'],
    [['--units', 'furlongs'], '--units'],
  ])('%j: the call is off and nothing is written', async (more, named) => {
    const out = join(folder, 'never');
    const { code, err } = await exportDome(out, more);
    expect(code).toBe(2);
    expect(err).toContain(named);
    expect(existsSync(out)).toBe(false);
  });

  it('cancelled: nothing is written', async () => {
    const abort = new AbortController();
    abort.abort(new DOMException('enough', 'AbortError'));
    const out = join(folder, 'cancelled');
    const { code } = await exportDome(out, [], abort.signal);
    expect(code).toBe(130);
    expect(existsSync(out)).toBe(false);
  });
});

describe('readStartDate', () => {
  it('takes days of the calendar and nothing else', () => {
    expect(readStartDate('2028-02-29')).toBe('2028-02-29');
    for (const text of ['2027-02-29', '2026-13-01', '26-12-01', '2026-12-1', '']) {
      expect(() => readStartDate(text)).toThrow('--start');
    }
  });
});
