import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ICAL from 'ical.js';
import { afterAll, expect, it } from 'vitest';
import { runCommand } from '../../src/cli/runCommand.ts';
import { writePly } from '../../src/io/writePly.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { readHtml } from './sheet/readHtml.ts';

/** Text that is markup to a page, a formula to a spreadsheet and a line of its own to a calendar, if any took it for that. */
const NASTY = `=HYPERLINK("http://x")<script>alert(1)</script><img src=x onerror=alert(1)>`;
const BREAKING = `${NASTY}\r\nBEGIN:VEVENT\r\nSUMMARY:x`;
const PLAIN = 'Plain';

const folder = mkdtempSync(join(tmpdir(), 'scute-foreign-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What the command writes for the dome when all names in scan and plan are the given one. */
async function exported(name: string): Promise<(file: string) => string> {
  const short = name.slice(0, 200);
  const base = shapePlan({ coatsMm: [5] });
  const [component, ...rest] = base.material.components;
  const plan = {
    ...base,
    job: { name: short, shop: short },
    scan: { ...base.scan, file: 'dome.ply', board: 'auto' },
    parting: { ...base.parting, pieces: [{ anchorMm: [0, 0, 40], name: short, pull: null }] },
    coats: base.coats.map((coat) => ({ ...coat, name: short })),
    material: { ...base.material, name: short, components: [component, ...rest] },
    supplies: { ...base.supplies, currency: short, shim: { ...base.supplies.shim, name: short } },
  };
  const out = join(folder, name === PLAIN ? 'plain' : 'nasty');
  writeFileSync(join(folder, 'dome.ply'), writePly(openHalfSphere(40, 10), { comment: NASTY }));
  writeFileSync(join(folder, 'plan.json'), JSON.stringify(plan));
  let err = '';
  const words = ['export', join(folder, 'plan.json'), '--out', out, '--no-solids', '--start', '2026-12-01'];
  const code = await runCommand([...words, '--resolution', '5'], {
    out: { write: () => true },
    err: {
      write: (text) => {
        err += text;
      },
    },
    signal: new AbortController().signal,
  });
  expect(code, err).toBe(0);
  return (file) => readFileSync(join(out, file), 'utf8');
}

it('names that are markup, formulas and calendar lines stay text in all that is exported', async () => {
  const plain = await exported(PLAIN);
  const nasty = await exported(BREAKING);
  for (const file of ['sheet.html', 'templates.html']) {
    const { tags, text } = readHtml(nasty(file));
    const known = new Set(readHtml(plain(file)).tags);
    expect(
      tags.filter((tag) => !known.has(tag)),
      file,
    ).toEqual([]);
    expect(text, file).toContain('<script>alert(1)</script>');
  }
  // The counter-check: the same text unescaped is seen by this reader.
  expect(() => readHtml(`<p>${NASTY}</p>`)).toThrow(/No tag can be read/);
  expect(readHtml('<p><script>alert(1)</script></p>').tags).toContain('script');
  for (const line of nasty('batches.csv').split(/(?<=")\r\n|,/)) expect(line).not.toMatch(/^"?\s*[=+@]/);
  expect(nasty('batches.csv')).toContain(`"'=HYPERLINK`);
  const count = (text: string): number =>
    new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').length;
  expect(count(nasty('calendar.ics'))).toBe(count(plain('calendar.ics')));
  expect(nasty('calendar.ics')).not.toMatch(/^SUMMARY:x/m);
}, 120_000);
