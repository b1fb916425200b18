import { expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { planWork } from '../../src/core/work/planWork.ts';
import { boxGround } from '../core/work/log/boxGround.ts';

// A coat's unknown system, an unknown piece in the order and a finished coat of one passed without a word; the coat was
// planned, weighed and bought in the shell's own system.
const PLAN = newPlan('box.stl');
const notesOf = (plan: PlanDocument) => planWork(plan, boxGround(['A', 'B'])).workNotes;
const codesOf = (plan: PlanDocument) => notesOf(plan).map(({ code }) => code);

it('tells of a coat whose system the plan does not hold', () => {
  const coats = PLAN.coats.map((coat, n) => (n === 1 ? { ...coat, systemId: 'gone' } : coat));
  const note = notesOf({ ...PLAN, coats }).find(({ code }) => code === 'system-unknown');
  expect(note).toMatchObject({ piece: null, coat: 1 });
  expect(note?.text).toContain(
    `asks for the system “gone”, which the plan does not hold. It is planned in ${PLAN.material.name}`,
  );
});

it('tells of a piece in the order that there is not', () => {
  const note = notesOf({ ...PLAN, day: { ...PLAN.day, order: ['Z', 'B'] } }).find(
    ({ code }) => code === 'order-stray',
  );
  expect(note?.text).toContain('names “Z”; the pieces are A, B.');
});

it('tells of a finished coat that there is not', () => {
  const log = { ...PLAN.log, closed: [{ piece: 'Z', coat: 0 }] };
  const note = notesOf({ ...PLAN, log }).find(({ code }) => code === 'log-stray');
  expect(note?.text).toContain('calls coat 1 of piece Z finished');
});

it('is silent about what the plan has', () => {
  const coats = PLAN.coats.map((coat) => ({ ...coat, systemId: PLAN.material.id }));
  const named: PlanDocument = {
    ...PLAN,
    coats,
    day: { ...PLAN.day, order: ['B', 'A'] },
    log: { ...PLAN.log, closed: [{ piece: 'A', coat: 0 }] },
  };
  const codes = codesOf(named);
  for (const code of ['system-unknown', 'order-stray', 'log-stray']) expect(codes).not.toContain(code);
});
