import { describe, expect, it } from 'vitest';
import {
  carryProgress,
  emptyBucket,
  progressOf,
  putProgress,
  readBenchProgress,
  tickStep,
  turnPart,
  untickStep,
} from '../../src/session/benchProgress.ts';
import { carryTimers, lengthenTimer, startTimer, timerId, timersDue } from '../../src/session/timers.ts';
import { readViewPrefs } from '../../src/session/ViewPrefs.ts';

const STEPS = [
  { item: 'liquid', massG: 50 },
  { item: 'powder', massG: 125 },
];

describe('progress at the bench', () => {
  it('is kept by job, the latest in front, and comes back through the preferences', () => {
    const first = tickStep(progressOf([], 'a.stl/Bust'), { id: 'A/wall', what: 'Wall', atMs: 5 });
    const second = turnPart(progressOf([], 'b.stl/'), 'A/coat1/batch1', STEPS, 0);
    const all = putProgress(putProgress([], first), second);
    expect(all.map(({ job }) => job)).toEqual(['b.stl/', 'a.stl/Bust']);
    const prefs = readViewPrefs(JSON.parse(JSON.stringify({ bench: all, isAtBench: true })));
    expect(prefs.bench).toEqual(all);
    expect(prefs.isAtBench).toBe(true);
    expect(progressOf(prefs.bench, 'a.stl/Bust').ticks).toEqual([{ id: 'A/wall', what: 'Wall', atMs: 5 }]);
    expect(progressOf(prefs.bench, 'c.stl/').ticks).toEqual([]);
  });

  it('a tick keeps its first time and can be taken back; a bucket can be emptied', () => {
    const once = tickStep(progressOf([], 'a'), { id: 'A/wall', what: 'Wall', atMs: 5 });
    expect(tickStep(once, { id: 'A/wall', what: 'Wall', atMs: 9 })).toBe(once);
    expect(untickStep(once, 'A/wall').ticks).toEqual([]);
    const begun = turnPart(once, 'b', STEPS, 1);
    expect(begun.pours).toHaveLength(1);
    expect(emptyBucket(begun, 'b').pours).toEqual([]);
  });

  it('what is odd is left out; half a bucket is none', () => {
    const part = { item: 'powder', massG: 125, isIn: true };
    const kept = [
      {
        job: 'a',
        at: 7,
        ticks: [{ id: 'x' }, { id: 'y', what: 'Y', atMs: 1 }, { id: 'z', what: 'Z', atMs: null }],
        pours: [
          { batch: 'b', parts: [part, { ...part, massG: -1 }] },
          { batch: 'c', parts: [part] },
          { batch: 'd', parts: [] },
        ],
      },
      { ticks: [] },
      null,
      'x',
    ];
    expect(readBenchProgress(kept)).toEqual([
      {
        job: 'a',
        at: null,
        ticks: [{ id: 'y', what: 'Y', atMs: 1 }],
        pours: [{ batch: 'c', parts: [part] }],
      },
    ]);
    expect(readBenchProgress('none')).toEqual([]);
  });
});

describe('a job under another key', () => {
  const ticked = tickStep(progressOf([], 'before'), { id: 'A/wall', what: 'Wall', atMs: 5 });
  const other = progressOf([], 'other');
  const timers = startTimer(
    startTimer([], { id: timerId('before', 'A/dry'), label: 'A', minutes: 10 }, 0),
    { id: timerId('other', 'A/dry'), label: 'B', minutes: 20 },
    0,
  );

  it('takes its ticks and timers along, and no other job’s', () => {
    const moved = carryProgress([ticked, other], 'before', 'after', true);
    expect(moved).toEqual([{ ...ticked, job: 'after' }, other]);
    expect(carryTimers(timers, 'before', 'after', true).map(({ id }) => id)).toEqual([
      'after: A/dry',
      'other: A/dry',
    ]);
  });

  it('or has them under both, when it is kept beside the one it comes from', () => {
    const both = carryProgress([ticked, other], 'before', 'after', false);
    expect(both.map(({ job }) => job)).toEqual(['after', 'before', 'other']);
    expect(progressOf(both, 'after').ticks).toEqual(ticked.ticks);
    expect(carryTimers(timers, 'before', 'after', false)).toHaveLength(3);
  });

  it('never covers what stands there already; nothing to carry changes nothing', () => {
    const all = [ticked, other];
    expect(carryProgress(all, 'before', 'other', true)).toBe(all);
    expect(carryProgress(all, 'none', 'after', true)).toBe(all);
    expect(carryTimers(timers, 'none', 'after', true)).toBe(timers);
  });
});

describe('timers of the bench', () => {
  const MIN = 60_000;
  const timers = startTimer([], { id: 'a', label: 'A', minutes: 10 }, 0);

  it('five minutes more: from the end while it runs, from now when it is over', () => {
    expect(lengthenTimer(timers, 'a', 5, 2 * MIN)[0].endMs).toBe(15 * MIN);
    expect(lengthenTimer(timers, 'a', 5, 12 * MIN)[0].endMs).toBe(17 * MIN);
    expect(lengthenTimer(timers, 'b', 5, 0)).toBe(timers);
  });

  it('one that ended while the machine slept is due once, when it wakes', () => {
    expect(timersDue(timers, 9 * MIN, 13 * MIN)).toEqual(timers);
    expect(timersDue(timers, 13 * MIN, 14 * MIN)).toEqual([]);
    expect(timersDue(timers, 0, 9 * MIN)).toEqual([]);
  });
});
