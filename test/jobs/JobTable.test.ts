import { expect, test } from 'vitest';
import { writeStl } from '../../src/io/writeStl.ts';
import { JobTable } from '../../src/jobs/JobTable.ts';
import type { JobInput, ToPage } from '../../src/jobs/messages.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { octasphere, openHalfSphere } from '../fixtures/shapes.ts';

const dome = (): JobInput => ({
  kind: 'open',
  name: 'dome.stl',
  bytes: writeStl(openHalfSphere(30, 12)).buffer,
});
const plan = shapePlan({
  coatsMm: [3, 4],
  scan: { board: 'auto' },
  parting: { pieceCount: 2 },
  flange: { widthMm: 20, thicknessMm: 8 },
});

/** A table with its messages, and jobs numbered from 1. */
function startTable(): {
  table: JobTable;
  sent: ToPage[];
  send: (input: JobInput) => Promise<ToPage | undefined>;
} {
  const sent: ToPage[] = [];
  const table = new JobTable((message) => sent.push(message));
  let id = 0;
  const send = async (input: JobInput): Promise<ToPage | undefined> => {
    const job = ++id;
    table.receive({ kind: 'job', id: job, input });
    await table.idle();
    const end = (): ToPage | undefined =>
      sent.find((m) => m.id === job && (m.kind === 'done' || m.kind === 'failed'));
    for (let n = 0; n < 400 && end() === undefined; n++)
      await new Promise((resolve) => setTimeout(resolve, 5));
    return end();
  };
  return { table, sent, send };
}

test('open, plan, draw a line, cut: each job ends with its own output', async () => {
  const { sent, send } = startTable();
  const opened = await send(dome());
  expect(opened).toMatchObject({ kind: 'done', output: { kind: 'opened', scan: { name: 'dome.stl' } } });

  expect(await send({ kind: 'plan', plan, revision: 7 })).toMatchObject({
    kind: 'done',
    output: { kind: 'planned' },
  });
  const answers = sent.filter((m) => m.kind === 'answer').map((m) => m.answer);
  expect(answers.every((answer) => answer.revision === 7)).toBe(true);
  expect(answers[0].isFinal).toBe(false);
  const last = answers[answers.length - 1];
  expect(last.isFinal).toBe(true);
  expect(last.result.preliminary).toBe(false);
  // The rubber is sent once; every drawn answer has a shell for each piece.
  expect(answers.filter((answer) => answer.geometry?.rubber)).toHaveLength(1);
  expect(last.geometry?.pieces).toHaveLength(2);
  for (const piece of last.geometry?.pieces ?? []) expect(piece.shell?.indices.length).toBeGreaterThan(0);
  const fractions = sent
    .filter((m) => m.kind === 'progress' && m.id === 2)
    .map((m) => (m.kind === 'progress' ? m.fraction : 0));
  expect([...fractions].sort((a, b) => a - b)).toEqual(fractions);
  expect(fractions[fractions.length - 1]).toBe(1);

  // A line still being drawn, far from the board: shown with its ends loose.
  const line = await send({
    kind: 'path',
    points: [
      [10, 0, 28],
      [0, 10, 28],
    ],
    closed: false,
  });
  expect(line).toMatchObject({ kind: 'done', output: { kind: 'path' } });

  const section = await send({ kind: 'section', plane: { normal: [1, 0, 0], offsetMm: 0.2 } });
  if (section?.kind !== 'done' || section.output.kind !== 'section') throw new Error('no section');
  const { areas } = section.output.picture;
  // The rubber, and both coats of at least one piece.
  expect(areas.filter((area) => area.coat === -1)).toHaveLength(1);
  expect(new Set(areas.map((area) => area.coat))).toEqual(new Set([-1, 0, 1]));
  // Half a disc of radius 30, by the shoelace formula, to the picture's sampling of half a cell.
  const ring = areas[0].rings[0];
  let twice = 0;
  for (let n = 0; n < ring.length; n += 2) {
    const m = (n + 2) % ring.length;
    twice += ring[n] * ring[m + 1] - ring[m] * ring[n + 1];
  }
  expect(Math.abs(twice) / 2 / ((Math.PI * 30 ** 2) / 2)).toBeCloseTo(1, 1);
});

test('a coat changed on drawn pieces is answered with numbers before its shell is drawn', async () => {
  const { sent, send } = startTable();
  await send(dome());
  await send({ kind: 'plan', plan, revision: 1 });
  sent.length = 0;
  const coats = plan.coats.map((coat, n) => (n === 0 ? { ...coat, thicknessMm: 3.1 } : coat));
  await send({ kind: 'plan', plan: { ...plan, coats }, revision: 2 });
  const answers = sent.filter((m) => m.kind === 'answer').map((m) => m.answer);
  expect(answers.map((answer) => answer.geometry === null)).toEqual([true, false]);
  expect(answers[0].result.shell.massG).toBe(answers[1].result.shell.massG);
});

test('a file that cannot be read is refused with its code, and the open scan stays', async () => {
  const { send } = startTable();
  await send(dome());
  const bad = await send({
    kind: 'open',
    name: 'photo.stl',
    bytes: Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10).buffer,
  });
  expect(bad).toMatchObject({ kind: 'failed', failure: { kind: 'mesh', code: 'unknown-format' } });
  expect(await send({ kind: 'plan', plan, revision: 1 })).toMatchObject({ kind: 'done' });
});

test('a plan that cannot be carried out is a plan failure, one without a scan too', async () => {
  const { send } = startTable();
  expect(await send({ kind: 'plan', plan, revision: 1 })).toMatchObject({
    kind: 'failed',
    failure: { kind: 'plan' },
  });
  await send(dome());
  const lines = [
    {
      id: 'a',
      points: [
        [0, 0, 30],
        [1, 0, 30],
      ] as const,
      closed: false,
    },
  ];
  const bad = await send({
    kind: 'plan',
    plan: { ...plan, parting: { ...plan.parting, lines } },
    revision: 2,
  });
  expect(bad).toMatchObject({ kind: 'failed', failure: { kind: 'plan', code: 'bad-line' } });
});

test('a cancelled job ends without a word, the next one runs', async () => {
  const { table, sent } = startTable();
  table.receive({
    kind: 'job',
    id: 1,
    input: { kind: 'open', name: 'ball.stl', bytes: writeStl(octasphere(40, 40)).buffer },
  });
  table.receive({ kind: 'job', id: 2, input: { kind: 'plan', plan, revision: 1 } });
  table.receive({ kind: 'cancel', id: 2 });
  table.receive({ kind: 'job', id: 3, input: dome() });
  await table.idle();
  expect(sent.filter((m) => m.id === 2 && m.kind !== 'progress')).toEqual([]);
  expect(sent.find((m) => m.id === 3 && m.kind === 'done')).toBeDefined();
});
