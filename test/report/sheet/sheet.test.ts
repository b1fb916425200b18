import { describe, expect, it } from 'vitest';
import type { PlanResult } from '../../../src/core/PlanResult.ts';
import { encodePng } from '../../../src/core/picture/encodePng.ts';
import type { PrintedSide } from '../../../src/core/picture/SidePicture.ts';
import { SIDES } from '../../../src/core/picture/SideView.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../../src/core/plan/PlanDocument.ts';
import { buildSheet } from '../../../src/report/sheet/buildSheet.ts';
import { figureOf, pictureHref } from '../../../src/report/sheet/figureOf.ts';
import { pageRules } from '../../../src/report/sheet/pageRules.ts';
import { renderSheet } from '../../../src/report/sheet/renderSheet.ts';
import { scaleBar } from '../../../src/report/sheet/scaleBar.ts';
import { sheetPage } from '../../../src/report/sheet/sheetPage.ts';
import { madeUpResult } from '../madeUpResult.ts';
import { readHtml } from './readHtml.ts';

const NASTY = `<script>alert("1")</script> 'n' & "q" <b`;
const STEPS = [
  'Rubber',
  'Mixing',
  'Resin',
  'Setting',
  'Flange',
  'Reinforced coat',
  'Trimming',
  'Lifting',
  'Casting',
];
const MORE_STEPS = ['Opening', 'Release', 'All steps', 'A step that no section knows'];

const plan: PlanDocument = { ...newPlan('bust.stl'), job: { name: 'Bust', shop: 'A loft' } };

/** Two coats of one piece, the second reinforced and half done, and a caution for every step there is. */
function result(): PlanResult {
  const made = madeUpResult();
  const [work] = made.coatWork;
  const [batch] = made.batches;
  const reinforced = { ...work, coat: 2, name: 'Reinforced', kind: 'reinforced' as const };
  const second = { ...batch, coat: 'Reinforced', coatNumber: 2, of: 2 };
  const steps = [
    { item: 'liquid', massG: 61.5, scale: 'fine scale', say: '' },
    { item: 'powder', massG: 153.25, scale: 'bench scale', say: '' },
    { item: 'chopped glass', massG: 12.8, scale: 'fine scale', say: 'stir in last, for no more than 30 s' },
  ];
  return {
    ...made,
    coatWork: [work, reinforced],
    batches: [
      batch,
      { ...second, number: 1, loggedG: 230.5, steps },
      { ...second, number: 2, mixedG: 227.55, steps },
    ],
    cautions: [...STEPS, ...MORE_STEPS].map((step, n) => ({ step, text: `Caution number ${n} of ${step}.` })),
  };
}

const picture = (n: number): PrintedSide => ({
  side: SIDES[n],
  widthPx: 40,
  heightPx: 50,
  mmPerPx: 5,
  png: encodePng({ widthPx: 40, heightPx: 50, rgb: new Uint8Array(3 * 40 * 50).fill(200) }),
  labels: [
    { kind: 'piece', number: 0, xPx: 20, yPx: 30, roomPx: 19 },
    { kind: 'probe', number: 1, xPx: 12, yPx: 14, roomPx: 0 },
  ],
});
const figures = () => [0, 1, 2, 3].map((n) => figureOf(picture(n), pictureHref(picture(n)), 'metric'));

const pageOf = (of: PlanResult, from: PlanDocument = plan): string =>
  sheetPage(buildSheet(from, of, figures(), 'metric'), 'a4', null);
const count = (text: string, part: string): number => text.split(part).length - 1;

describe('the shop sheet', () => {
  it('is HTML that closes what it opens, without a script, a link or an address outside itself', () => {
    const html = pageOf(result());
    const { tags } = readHtml(html);
    expect(tags).toContain('table');
    for (const tag of ['script', 'link', 'iframe', 'object', 'form', 'a', 'base'])
      expect(tags).not.toContain(tag);
    const addresses = [...html.matchAll(/(?:href|src)="([^"]*)"/g)].map((match) => match[1]);
    expect(addresses).toHaveLength(4);
    for (const address of addresses) expect(address).toMatch(/^data:image\/png;base64,/);
    expect(html).not.toMatch(/\bhttps?:|url\((?!"data:)|@import|\son[a-z]+=/i);
  });

  it('holds every batch with each weight, and room for the true weight where none was logged', () => {
    const { text } = readHtml(pageOf(result()));
    for (const figure of ['52', '130', '182', '61.5', '153.25', '12.8', '227.55', '230.5']) {
      expect(text).toContain(figure);
    }
    for (const head of ['liquid, g', 'powder, g', 'chopped glass, g']) expect(text).toContain(head);
    expect(text).toContain('stir in last, for no more than 30 s');
    const { body } = renderSheet(buildSheet(plan, result(), null, 'metric'));
    expect(count(body, 'room for: True weight, g')).toBe(2);
    expect(count(body, 'aria-label="done"')).toBe(1);
  });

  it('holds every caution once, beside its step or at the end', () => {
    const { cautions } = result();
    const { text } = readHtml(pageOf(result()));
    for (const caution of cautions) expect(count(text, caution.text), caution.step).toBe(1);
    const at = (part: string): number => text.indexOf(part);
    expect(at('of Mixing.')).toBeGreaterThan(at('Batches, in the order of the work'));
    expect(at('of Reinforced coat.')).toBeLessThan(at('front, coat 3: Reinforced'));
    expect(at('of Reinforced coat.')).toBeGreaterThan(at('front, coat 1: Face'));
    expect(at('of Setting.')).toBeGreaterThan(at('Face, partial cure'));
    expect(at('of Lifting.')).toBeGreaterThan(at('In the hand'));
    expect(at('of Casting.')).toBeGreaterThan(at('Filled'));
    expect(at('of A step that no section knows.')).toBeGreaterThan(at('Take care'));
  });

  it('loses no caution where there is nothing to lift, to fill or to do', () => {
    const bare = { ...result(), handling: [], casting: null, schedule: [], batches: [], coatWork: [] };
    const { text } = readHtml(pageOf(bare));
    for (const caution of bare.cautions) expect(count(text, caution.text), caution.step).toBe(1);
  });

  it('escapes whatever comes from a file or the user', () => {
    const made = result();
    const nasty: PlanResult = {
      ...made,
      pieces: made.pieces.map((piece) => ({ ...piece, name: NASTY })),
      coatWork: made.coatWork.map((work) => ({ ...work, pieceName: NASTY, name: NASTY })),
      batches: made.batches.map((batch) => ({
        ...batch,
        coat: NASTY,
        steps: batch.steps.map((step) => ({ ...step, item: NASTY, scale: NASTY, say: NASTY })),
      })),
      shopping: made.shopping.map((item) => ({ ...item, item: NASTY, say: NASTY })),
      schedule: made.schedule.map((task) => ({ ...task, what: NASTY })),
      handling: made.handling.map((lift) => ({ ...lift, what: NASTY, advice: NASTY })),
      workNotes: [{ code: 'x', piece: 'A', coat: 0, text: NASTY }],
      cautions: [NASTY, 'All steps', 'Mixing'].map((step) => ({ step, text: NASTY })),
      cost: { ...made.cost, currency: NASTY, unpriced: [NASTY] },
    };
    const from: PlanDocument = {
      ...plan,
      job: { name: NASTY, shop: NASTY },
      scan: { ...plan.scan, file: NASTY },
      coats: plan.coats.map((coat) => ({ ...coat, name: NASTY })),
      material: { ...plan.material, name: NASTY, lotInUse: NASTY },
    };
    const plainTags = readHtml(pageOf(result())).tags;
    const html = pageOf(nasty, from);
    const { tags, text } = readHtml(html);
    expect(new Set(tags)).toEqual(new Set(plainTags));
    expect(html).not.toContain('<script');
    expect(count(text, NASTY)).toBeGreaterThan(20);
  });

  it('says so when its pictures are not drawn, and when its numbers are not the last word', () => {
    const without = readHtml(renderSheet(buildSheet(plan, result(), null, 'metric')).body).text;
    expect(without).toContain('Without its figures.');
    const whole = readHtml(renderSheet(buildSheet(plan, result(), figures(), 'metric')).body).text;
    expect(whole).not.toContain('Without its figures.');
    expect(whole).not.toContain('Not final.');
    const rough = { ...result(), preliminary: true };
    const told = readHtml(
      renderSheet(buildSheet(plan, rough, figures(), 'metric', 'Of yesterday.')).body,
    ).text;
    expect(told).toContain('Not final. Of yesterday. Rough figures');
  });

  it('tells a load that is not worked out yet from one that the scan does not give', () => {
    const made = result();
    const textOf = (of: PlanResult) => readHtml(renderSheet(buildSheet(plan, of, null, 'metric')).body).text;
    const pieces = made.pieces.map((piece) => ({ ...piece, thin: null }));
    const pending = textOf({ ...made, casting: null, pieces });
    expect(pending).toContain('Not worked out yet.');
    expect(pending).not.toContain('which way the fill presses');
    expect(textOf({ ...made, casting: null })).toContain('which way the fill presses');
    expect(textOf({ ...made, pieces })).not.toContain('Not worked out yet.');
  });

  it('has its notes on the first page, as many as there is room for, and word of the others there', () => {
    const first = (html: string): string => html.slice(0, html.indexOf('title-block'));
    const one = renderSheet(buildSheet(plan, result(), figures(), 'metric')).body;
    expect(first(one)).toContain('The liquid has no price');
    const notes = Array.from({ length: 30 }, (_, n) => ({
      code: 'x',
      piece: null,
      coat: null,
      text: `Note ${n} is about something that will not do as it stands.`,
    }));
    const many = renderSheet(buildSheet(plan, { ...result(), workNotes: notes }, figures(), 'metric')).body;
    // Thirty of the work, eleven of them in 640 letters, and one of the scan.
    expect(first(many)).toContain('20 more stand on the next page.');
    for (const [n, { text }] of notes.entries()) {
      expect(many.split(text)).toHaveLength(2);
      expect(first(many).includes(text)).toBe(n < 11);
    }
  });

  it('prints times and weights in the units asked for; batches stay in grams', () => {
    const us = readHtml(renderSheet(buildSheet(plan, result(), figures(), 'us')).body).text;
    expect(us).toContain('8:00\u00a0am');
    expect(us).toContain('153.25');
    expect(us).toContain('lbf');
    expect(us).not.toContain(' kPa');
    const metric = readHtml(renderSheet(buildSheet(plan, result(), figures(), 'metric')).body).text;
    expect(metric).toContain('08:00');
    expect(metric).toContain('4.30\u00a0kPa');
  });
});

describe('scaleBar', () => {
  it('is a round length of at most three tenths of the picture, true to its scale', () => {
    expect(scaleBar(0.5, 720, 'metric')).toEqual({ lengthPx: 200, text: '100 mm' });
    expect(scaleBar(5, 720, 'metric')).toEqual({ lengthPx: 200, text: '1 m' });
    const us = scaleBar(0.5, 720, 'us');
    expect(us.text).toBe('4 in');
    expect(us.lengthPx).toBeCloseTo((4 * 25.4) / 0.5, 9);
  });
});

describe('pageRules', () => {
  it('a job’s name cannot end the string that it stands in', () => {
    const css = pageRules('a";} body{display:none} \\ é', 'letter');
    expect(css).toContain('size:letter portrait');
    const [, content] = /@bottom-left\{content:"([^"]*)"/.exec(css) ?? [];
    // CSS Syntax Level 3, 4.3.7: a backslash, hex digits, one space.
    const read = content.replace(/\\([0-9a-f]+) /g, (_, hex: string) =>
      String.fromCodePoint(Number.parseInt(hex, 16)),
    );
    expect(read).toBe('a";} body{display:none} \\ é');
  });
});
