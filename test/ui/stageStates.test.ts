import { describe, expect, it } from 'vitest';
import type { BatchResult, ScanNote, TaskResult } from '../../src/core/PlanResult.ts';
import type { OpenedScan, PlanAnswer } from '../../src/jobs/protocol.ts';
import {
  elapsedMin,
  type LoadedScan,
  type SessionState,
  SessionStore,
  settledTotals,
} from '../../src/session/SessionStore.ts';
import { stageStates } from '../../src/ui/stageStates.ts';
import { fakeAnswer, fakePlan } from '../session/fakeAnswer.ts';

const batch = (number: number, loggedG: number | null): BatchResult => ({
  piece: 'A',
  coat: 'Face',
  coatNumber: 0,
  number,
  of: 3,
  componentsG: { powder: 100 },
  mixedG: 100,
  laidG: 95,
  volumeMl: 55,
  areaMm2: 1000,
  steps: [],
  workingTimeMin: 20,
  mixMin: 3,
  layMin: 5,
  ratioOff: 0,
  loggedG,
});

const task = (startMin: number, endMin: number): TaskResult => ({
  id: `${startMin}`,
  what: 'Step',
  kind: 'trim',
  piece: 'A',
  coat: null,
  coatNumber: null,
  batch: null,
  startMin,
  endMin,
  attended: true,
  who: 1,
  after: [],
  soonestMin: null,
  latestMin: null,
});

function answerWith(logged: readonly (number | null)[], schedule: readonly TaskResult[] = []): PlanAnswer {
  const answer = fakeAnswer(fakePlan(), 1);
  const { day } = answer.result;
  return {
    ...answer,
    result: {
      ...answer.result,
      batches: logged.map((g, i) => batch(i + 1, g)),
      schedule,
      day: { ...day, days: 2 },
    },
  };
}

const stateWith = (answer: PlanAnswer): SessionState => ({ ...new SessionStore(fakePlan()).state, answer });

describe('what the margin says of the work', () => {
  it('batches on stage Mix; days, then what is done, on stage Sheet', () => {
    expect(stageStates(stateWith(answerWith([null, null, null])))).toMatchObject({
      mix: '3 batches',
      sheet: '2 days',
    });
    expect(stageStates(stateWith(answerWith([98, null, null]))).sheet).toBe('1/3 done');
    expect(stageStates(stateWith(answerWith([98, 101, 99]))).sheet).toBe('all done');
    expect(stageStates(stateWith(answerWith([null]))).mix).toBe('1 batch');
  });

  it('nothing is promised on rough numbers', () => {
    expect(stageStates(stateWith({ ...answerWith([null]), isFinal: false })).sheet).toBe('');
  });

  it('a unit that was guessed is asked for, under stage Scan', () => {
    const opened: OpenedScan = { name: 'a.stl', triangles: 12, vertices: 8, size: [60, 50, 70], notes: [] };
    const scanState = (warnings: readonly ScanNote[]) => {
      const answer = answerWith([null]);
      const result = { ...answer.result, scan: { ...answer.result.scan, warnings } };
      const scan: LoadedScan = { name: 'a.stl', bytes: new ArrayBuffer(0), opened };
      return stageStates({ ...stateWith({ ...answer, result }), scan }).scan;
    };
    const known = scanState([]);
    expect(known).toMatch(/mm$/);
    expect(scanState([{ code: 'unit-guessed', text: 'The file names no unit.' }])).toBe(`${known}?`);
  });
});

describe('totals that a later change is compared with', () => {
  it('holds batches and the time from the first step to the last', () => {
    const { result } = answerWith([null, null], [task(560, 600), task(480, 500), task(600, 1530)]);
    expect(settledTotals(result)).toMatchObject({ batches: 2, elapsedMin: 1050 });
    expect(elapsedMin([])).toBe(0);
  });
});
