import type { BatchResult, TaskResult } from '../../../src/core/PlanResult.ts';

/** A step of the schedule, by hands unless it says more; minutes after midnight. */
export function task(
  id: string,
  startMin: number,
  endMin: number,
  more: Partial<TaskResult> = {},
): TaskResult {
  return {
    id,
    what: id,
    kind: 'set-out',
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
    ...more,
  };
}

/** The first batch of a piece's first coat unless it says more, of three parts. */
export function batch(more: Partial<BatchResult> = {}): BatchResult {
  return {
    piece: 'A',
    coat: 'Face',
    coatNumber: 0,
    number: 1,
    of: 1,
    componentsG: { liquid: 53.9, thickener: 1.1, powder: 134.9 },
    mixedG: 189.9,
    laidG: 156,
    volumeMl: 103,
    areaMm2: 56_000,
    steps: [
      { item: 'liquid', massG: 53.9, scale: 'fine scale', say: '' },
      { item: 'thickener', massG: 1.1, scale: 'fine scale', say: '' },
      { item: 'powder', massG: 134.9, scale: 'fine scale', say: '' },
    ],
    workingTimeMin: 17,
    mixMin: 3,
    layMin: 5,
    ratioOff: 0,
    loggedG: null,
    ...more,
  };
}
