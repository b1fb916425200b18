import { PlanError } from '../../errors.ts';
import type { DayTask } from './DayTask.ts';

/** The steps by number, as the scheduler walks them. */
export interface TaskLinks {
  /** Steps in an order in which every one comes after what it waits for; as given, where that leaves a choice. */
  readonly order: readonly number[];
  /** By step: numbers of those that it waits for, and of those that wait for it. */
  readonly before: readonly (readonly number[])[];
  readonly behind: readonly (readonly number[])[];
  /** By step: its limits, with the number of the step that they count from. */
  readonly limits: readonly (readonly { readonly of: number; readonly withinMin: number }[])[];
}

/**
 * Ids to numbers. Throws PlanError 'bad-plan' when two steps have one id, when a step waits for one that is not there, when
 * steps wait for each other in a ring, or when a limit speaks of a step of no hands: a fault in who built the graph.
 */
export function linkTasks(tasks: readonly DayTask[]): TaskLinks {
  const numberOf = new Map<string, number>();
  for (const [n, { id }] of tasks.entries()) {
    if (numberOf.has(id)) throw new PlanError('bad-plan', `Two steps of the day are both called "${id}".`);
    numberOf.set(id, n);
  }
  const find = (id: string, by: string): number => {
    const n = numberOf.get(id);
    if (n === undefined)
      throw new PlanError('bad-plan', `Step "${by}" waits for "${id}", which is no step of the day.`);
    return n;
  };
  const before = tasks.map(({ id, after }) => after.map((other) => find(other, id)));
  const behind: number[][] = tasks.map(() => []);
  for (const [n, list] of before.entries()) for (const other of list) behind[other].push(n);
  const limits = tasks.map(({ id, limits: own }) =>
    own.map(({ of, withinMin }) => ({ of: find(of, id), withinMin })),
  );
  for (const [n, { id, hands }] of tasks.entries()) {
    if (limits[n].some(({ of }) => hands === 0 || tasks[of].hands === 0)) {
      throw new PlanError('bad-plan', `A limit of step "${id}" speaks of a step that nobody stands at.`);
    }
  }
  return { order: sortByWaits(tasks, before, behind), before, behind, limits };
}

function sortByWaits(
  tasks: readonly DayTask[],
  before: readonly (readonly number[])[],
  behind: readonly (readonly number[])[],
): number[] {
  const missing = before.map((list) => list.length);
  const open = tasks.flatMap((_, n) => (missing[n] === 0 ? [n] : []));
  const order: number[] = [];
  while (open.length > 0) {
    open.sort((a, b) => a - b);
    const n = open.shift() as number;
    order.push(n);
    for (const other of behind[n]) {
      missing[other]--;
      if (missing[other] === 0) open.push(other);
    }
  }
  if (order.length < tasks.length) {
    const ring = tasks.filter((_, n) => missing[n] > 0).map(({ id }) => `"${id}"`);
    throw new PlanError('bad-plan', `Steps of the day wait for each other: ${ring.join(', ')}.`);
  }
  return order;
}
