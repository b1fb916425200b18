import type { DayTask } from '../../../../src/core/work/day/DayTask.ts';

/** A step with what a test says of it; nothing waits, nothing is limited, one pair of hands for ten minutes. */
export function madeUpTask(words: Partial<DayTask> & Pick<DayTask, 'id'>): DayTask {
  return {
    what: words.id,
    kind: 'trim',
    piece: null,
    coat: null,
    coatNumber: null,
    batch: null,
    minutes: 10,
    hands: 1,
    after: [],
    soonestMin: 0,
    limits: [],
    ...words,
  };
}
