import type { DayTask } from './DayTask.ts';

/**
 * Whose hands, by step: from 1, or null for a step of no hands. A step of several pairs stands at the first of them.
 * The lowest that is free takes the step, in the order of the clock; as never more are at work than there are, there
 * always is one.
 */
export function assignHands(
  tasks: readonly DayTask[],
  startsMin: ArrayLike<number>,
  hands: number,
): (number | null)[] {
  const freeMin = new Float64Array(hands);
  const who: (number | null)[] = tasks.map(() => null);
  const attended = tasks.flatMap((task, n) => (task.hands > 0 ? [n] : []));
  attended.sort((a, b) => startsMin[a] - startsMin[b] || a - b);
  for (const n of attended) {
    let needed = tasks[n].hands;
    for (let person = 0; person < hands && needed > 0; person++) {
      if (freeMin[person] > startsMin[n]) continue;
      freeMin[person] = startsMin[n] + tasks[n].minutes;
      who[n] ??= person + 1;
      needed--;
    }
  }
  return who;
}
