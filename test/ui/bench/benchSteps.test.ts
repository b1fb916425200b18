import { describe, expect, it } from 'vitest';
import type { PieceResult } from '../../../src/core/PlanResult.ts';
import type { LoggedBatch } from '../../../src/core/plan/PlanDocument.ts';
import { batchTaskId } from '../../../src/core/work/day/batchTaskId.ts';
import { startTimer } from '../../../src/session/timers.ts';
import { findDueStep } from '../../../src/ui/bench/findDueStep.ts';
import { batchStepId, listBenchSteps } from '../../../src/ui/bench/listBenchSteps.ts';
import { startDueWaits } from '../../../src/ui/bench/startDueWaits.ts';
import { batch, task } from './madeUpDay.ts';

const NOW = Date.UTC(2026, 11, 1, 9);
const MIN = 60_000;

// The morning of one piece: release dries while the bench is set out, then two coats with a wait between.
const schedule = [
  task('A/wall', 480, 524),
  task('A/release', 524, 534, { after: ['A/wall'] }),
  task('A/dry', 534, 564, { kind: 'dry', attended: false, after: ['A/release'] }),
  task('A/set-out', 534, 544, { after: ['A/release'] }),
  task('A/coat1/batch1', 564, 572, { kind: 'batch', coatNumber: 0, batch: 1, after: ['A/dry', 'A/set-out'] }),
  task('A/coat1/cure', 572, 610, {
    kind: 'cure',
    attended: false,
    coatNumber: 0,
    after: ['A/coat1/batch1'],
  }),
  task('A/coat2/batch1', 610, 619, { kind: 'batch', coatNumber: 1, batch: 1, after: ['A/coat1/cure'] }),
];
const batches = [batch(), batch({ coat: 'Build', coatNumber: 1 })];
const pieces = [{ id: 'A', name: 'front' }] as unknown as readonly PieceResult[];
const result = { schedule, batches, pieces, coatWork: [] };
const logged = (coat: number, at: string): LoggedBatch => ({
  piece: 'A',
  coat,
  number: 1,
  mixedG: 190,
  leftG: null,
  layMin: null,
  at,
});
const ids = (steps: readonly { readonly id: string }[]) => steps.map(({ id }) => id);

describe('the steps of the bench', () => {
  it('a wait stands where it ends: what can be done meanwhile comes before it', () => {
    expect(ids(listBenchSteps(result, { batches: [] }, []))).toEqual([
      'A/wall',
      'A/release',
      'A/set-out',
      'A/dry',
      'A/coat1/batch1',
      'A/coat1/cure',
      'A/coat2/batch1',
    ]);
  });

  it('the schedule calls a batch by the same id', () => {
    expect(batchStepId(batch())).toBe(batchTaskId(batch()));
    expect(batchStepId(batch({ piece: 'B', coatNumber: 2, number: 3 }))).toBe('B/coat3/batch3');
  });

  it('what was done stands first in the order in which it was, also when the schedule has it no longer', () => {
    // The plan's answer after the first batch: the steps before it are gone, ticked or not.
    const after = { ...result, schedule: schedule.slice(5) };
    const ticks = [
      { id: 'A/release', what: 'front: release', atMs: NOW + 10 * MIN },
      { id: 'A/wall', what: 'front: wall', atMs: NOW },
    ];
    const steps = listBenchSteps(after, { batches: [logged(0, '2026-12-01T10:30:00+01:00')] }, ticks);
    expect(ids(steps)).toEqual(['A/wall', 'A/release', 'A/coat1/batch1', 'A/coat1/cure', 'A/coat2/batch1']);
    expect(steps.map(({ isDone }) => isDone)).toEqual([true, true, true, false, false]);
    expect(steps[0]).toMatchObject({ what: 'front: wall', task: null });
    expect(steps[2]).toMatchObject({ what: 'front: Face, batch 1 of 1', batch: batches[0] });
  });

  it('a batch taken back stays in sight until the schedule has it again', () => {
    const after = { ...result, schedule: schedule.slice(5) };
    const steps = listBenchSteps(after, { batches: [] }, []);
    expect(steps[0]).toMatchObject({ id: 'A/coat1/batch1', isDone: false, task: null });
    expect(steps.filter(({ id }) => id === 'A/coat1/batch1')).toHaveLength(1);
  });

  it('an entry of the log without a time that can be read was before all else', () => {
    const steps = listBenchSteps(result, { batches: [logged(0, 'this morning')] }, [
      { id: 'A/wall', what: 'wall', atMs: 5 },
    ]);
    expect(ids(steps).slice(0, 2)).toEqual(['A/coat1/batch1', 'A/wall']);
  });
});

describe('the step that is due', () => {
  const steps = listBenchSteps(result, { batches: [] }, [
    { id: 'A/wall', what: '', atMs: 1 },
    { id: 'A/release', what: '', atMs: 2 },
    { id: 'A/set-out', what: '', atMs: 3 },
  ]);
  const due = (timers: Parameters<typeof findDueStep>[1], nowMs: number) =>
    findDueStep(steps, timers, nowMs, ({ id }) => id)?.id;

  it('a wait until its clock has run out, then what comes after it', () => {
    const timers = startTimer([], { id: 'A/dry', label: 'dry', minutes: 30 }, NOW);
    expect(due([], NOW)).toBe('A/dry');
    expect(due(timers, NOW + 29 * MIN)).toBe('A/dry');
    expect(due(timers, NOW + 30 * MIN)).toBe('A/coat1/batch1');
  });

  it('a clock under the id of a step that somebody does makes it no wait', () => {
    const timers = startTimer([], { id: 'A/coat1/batch1', label: 'mix', minutes: 1 }, NOW);
    expect(
      due([...timers, ...startTimer([], { id: 'A/dry', label: '', minutes: 1 }, NOW)], NOW + 5 * MIN),
    ).toBe('A/coat1/batch1');
  });

  it('none when all are done', () => {
    expect(findDueStep([], [], NOW, ({ id }) => id)).toBeNull();
  });
});

describe('waits begin by themselves', () => {
  const start = (id: string, done: readonly string[], timers: Parameters<typeof startDueWaits>[1] = []) =>
    startDueWaits('job', timers, id, new Set(done), result, [], NOW);

  it('when the last step before them is done, for as long as the schedule has them', () => {
    expect(start('A/release', ['A/wall'])).toEqual([
      { id: 'job: A/dry', label: 'A/dry', startMs: NOW, endMs: NOW + 30 * MIN },
    ]);
    expect(start('A/wall', [])).toEqual([]);
  });

  it('not while another step before them is still to do; not twice', () => {
    const both = {
      ...result,
      schedule: schedule.map((one) =>
        one.id === 'A/dry' ? { ...one, after: ['A/release', 'A/wall'] } : one,
      ),
    };
    expect(startDueWaits('job', [], 'A/release', new Set(), both, [], NOW)).toEqual([]);
    const running = start('A/release', []);
    expect(startDueWaits('job', running, 'A/release', new Set(), result, [], NOW + MIN)).toEqual(running);
  });
});
