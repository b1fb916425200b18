import { expect, test, vi } from 'vitest';
import { type WorkerLike, WorkerPlanner } from '../../src/jobs/client.ts';
import type { JobInput, ToPage, ToWorker } from '../../src/jobs/messages.ts';
import { type PlanAnswer, PlannerError } from '../../src/jobs/protocol.ts';
import { shapePlan } from '../fixtures/planShape.ts';

/** A worker that does nothing by itself: a test reads what it was sent and says what it answers. */
class HandWorker implements WorkerLike {
  readonly received: ToWorker[] = [];
  isEnded = false;
  onmessage: ((event: MessageEvent<ToPage>) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;

  postMessage(message: ToWorker): void {
    this.received.push(message);
  }

  terminate(): void {
    this.isEnded = true;
  }

  say(message: ToPage): void {
    this.onmessage?.({ data: message } as MessageEvent<ToPage>);
  }

  die(why: string): void {
    this.onerror?.({ message: why } as ErrorEvent);
  }

  jobs(): { id: number; input: JobInput }[] {
    return this.received.flatMap((m) => (m.kind === 'job' ? [{ id: m.id, input: m.input }] : []));
  }
}

function startPlanner(): { planner: WorkerPlanner; workers: HandWorker[] } {
  const workers: HandWorker[] = [];
  const planner = new WorkerPlanner(() => {
    const worker = new HandWorker();
    workers.push(worker);
    return worker;
  });
  return { planner, workers };
}

async function openScan(planner: WorkerPlanner, workers: HandWorker[]): Promise<void> {
  const opening = planner.open('dome.stl', new ArrayBuffer(8));
  workers[0].say({
    kind: 'done',
    id: workers[0].jobs()[0].id,
    output: {
      kind: 'opened',
      scan: { name: 'dome.stl', triangles: 1, vertices: 3, size: [1, 1, 1], notes: [] },
    },
  });
  await opening;
}

const plan = shapePlan();
const picture = { positions: new Float32Array(9), indices: new Uint32Array(3) };
const result = { shell: { massG: 1 } } as unknown as PlanAnswer['result'];

test('a newer plan takes the place of the one under way', async () => {
  const { planner, workers } = startPlanner();
  await openScan(planner, workers);
  const first = planner.plan(plan, 1, { onAnswer: () => {} });
  const answers: PlanAnswer[] = [];
  const second = planner.plan(plan, 2, { onAnswer: (answer) => answers.push(answer) });
  await expect(first).rejects.toMatchObject({ name: 'AbortError' });
  const [, one, two] = workers[0].jobs();
  expect(workers[0].received).toContainEqual({ kind: 'cancel', id: one.id });
  // The first answer carried the rubber and comes too late; the second must not lose it.
  const geometry = { rubber: picture, pieces: [], lines: [], marks: [] };
  workers[0].say({ kind: 'answer', id: one.id, answer: { revision: 1, result, geometry, isFinal: false } });
  workers[0].say({
    kind: 'answer',
    id: two.id,
    answer: { revision: 2, result, geometry: { ...geometry, rubber: null }, isFinal: true },
  });
  workers[0].say({ kind: 'done', id: two.id, output: { kind: 'planned' } });
  await second;
  expect(answers.map((answer) => [answer.revision, answer.geometry.rubber])).toEqual([[2, picture]]);
});

test('numbers sent ahead of their picture come with the last picture', async () => {
  const { planner, workers } = startPlanner();
  await openScan(planner, workers);
  const answers: PlanAnswer[] = [];
  const planning = planner.plan(plan, 1, { onAnswer: (answer) => answers.push(answer) });
  const { id } = workers[0].jobs()[1];
  const line = { id: 'a', closed: false, path: new Float32Array(6), controlPoints: new Float32Array(6) };
  const geometry = { rubber: picture, pieces: [], lines: [line], marks: [] };
  // Ahead of any picture there is nothing to show them on.
  workers[0].say({ kind: 'answer', id, answer: { revision: 1, result, geometry: null, isFinal: false } });
  expect(answers).toHaveLength(0);
  workers[0].say({ kind: 'answer', id, answer: { revision: 1, result, geometry, isFinal: false } });
  workers[0].say({ kind: 'answer', id, answer: { revision: 1, result, geometry: null, isFinal: true } });
  workers[0].say({ kind: 'done', id, output: { kind: 'planned' } });
  await planning;
  expect(answers.map((answer) => answer.geometry.lines)).toEqual([[line], [line]]);
  expect(answers[1].geometry.rubber).toBeNull();
});

test('progress and failures reach the job that asked', async () => {
  const { planner, workers } = startPlanner();
  const progress = vi.fn();
  const opening = planner.open('x.stl', new ArrayBuffer(1), { progress });
  const { id } = workers[0].jobs()[0];
  workers[0].say({ kind: 'progress', id, fraction: 0.5, phase: 'reading the file' });
  workers[0].say({
    kind: 'failed',
    id,
    failure: { kind: 'mesh', code: 'truncated', message: 'The file ends at byte 1.' },
  });
  await expect(opening).rejects.toBeInstanceOf(PlannerError);
  await expect(opening).rejects.toMatchObject({ failure: { code: 'truncated' } });
  expect(progress).toHaveBeenCalledExactlyOnceWith(0.5, 'reading the file');
});

test('a worker that dies is replaced and given the open scan again', async () => {
  const { planner, workers } = startPlanner();
  await openScan(planner, workers);
  const planning = planner.plan(plan, 1, { onAnswer: () => {} });
  workers[0].die('out of memory');
  await expect(planning).rejects.toMatchObject({ failure: { kind: 'worker-lost' } });
  expect(workers[0].isEnded).toBe(true);
  const again = planner.plan(plan, 2, { onAnswer: () => {} });
  expect(workers[1].jobs().map((job) => job.input.kind)).toEqual(['open', 'plan']);
  workers[1].say({ kind: 'done', id: workers[1].jobs()[1].id, output: { kind: 'planned' } });
  await again;
});

test('a file that could not be read is not given to a new worker', async () => {
  const { planner, workers } = startPlanner();
  await openScan(planner, workers);
  const bad = planner.open('bad.stl', new ArrayBuffer(1));
  const { id } = workers[0].jobs()[1];
  workers[0].say({ kind: 'failed', id, failure: { kind: 'mesh', code: 'empty-file', message: 'Empty.' } });
  await expect(bad).rejects.toBeInstanceOf(PlannerError);
  workers[0].die('killed');
  void planner.plan(plan, 1, { onAnswer: () => {} }).catch(() => {});
  expect(workers[1].jobs()[0].input).toMatchObject({ kind: 'open', name: 'dome.stl' });
});
