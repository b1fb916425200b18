import { describe, expect, it } from 'vitest';
import type { CoatWork, TaskResult } from '../../../src/core/PlanResult.ts';
import { cureTimer, stepTimer, workingTimer } from '../../../src/ui/day/stepTimer.ts';

// Common practice, no source: a plain mix is worked for 30 min and cures in 90; 60 min between the first coats.
const batch = { piece: 'A', coat: 'Face', coatNumber: 0, number: 1, workingTimeMin: 30 };
const work = (coat: number): Pick<CoatWork, 'piece' | 'pieceName' | 'coat' | 'name' | 'times'> => ({
  piece: 'A',
  pieceName: 'Front',
  coat,
  name: coat === 0 ? 'Face' : 'Finish',
  times: { workingMin: 30, partialCureMin: 60, fullCureMin: 90, latestOvercoatMin: null },
});
const coats = [
  { name: 'Face', waitMin: null },
  { name: 'Finish', waitMin: null },
];

describe('what timers run', () => {
  it('a batch its working time; a coat its partial cure; the last coat the full cure', () => {
    expect(workingTimer('job', batch, 'Front')).toEqual({
      id: 'job: working A/0/1',
      label: 'Front, Face, batch 1: working time',
      minutes: 30,
    });
    expect(cureTimer('job', work(0), coats)).toMatchObject({
      minutes: 60,
      label: 'Front, Face: partial cure, then Finish',
    });
    expect(cureTimer('job', work(1), coats)).toMatchObject({
      minutes: 90,
      label: 'Front: full cure, then the shims',
    });
  });

  it('the wait that the user set stands before the system’s', () => {
    expect(cureTimer('job', work(0), [{ name: 'Face', waitMin: 45 }, coats[1]]).minutes).toBe(45);
  });

  it('a step runs as long as the schedule has it, but a batch as long as its mix can be worked', () => {
    const task: TaskResult = {
      id: 'release A',
      what: 'Release dries',
      kind: 'dry',
      piece: 'A',
      coat: null,
      coatNumber: null,
      batch: null,
      startMin: 480,
      endMin: 505,
      attended: false,
      who: null,
      after: [],
      soonestMin: null,
      latestMin: null,
    };
    expect(stepTimer('job', task, [batch], () => 'Front')).toEqual({
      id: 'job: release A',
      label: 'Release dries',
      minutes: 25,
    });
    const laying: TaskResult = { ...task, kind: 'batch', coatNumber: 0, batch: 1, endMin: 490 };
    expect(stepTimer('job', laying, [batch], () => 'Front').minutes).toBe(30);
    // A batch that the list no longer holds still has its time on the clock.
    expect(stepTimer('job', { ...laying, batch: 2 }, [batch], () => 'Front').minutes).toBe(10);
  });
});
