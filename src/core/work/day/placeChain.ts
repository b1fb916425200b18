import type { DayTask } from './DayTask.ts';
import type { HandsInUse } from './HandsInUse.ts';
import type { TaskLinks } from './linkTasks.ts';

/** A chain that finds no place within four weeks from its first step finds none at all: its limits contradict. Own choice. */
const HORIZON_MIN = 28 * 24 * 60;

/**
 * Places the steps of one chain as soon as what they wait for, the hands and their limits let them, and takes the hands.
 * Writes the starts into `startsMin`, minutes after midnight of the first day; what the chain waits for stands there
 * already. False, with nothing taken, when no start keeps the limits.
 *
 * Every step is put as soon as it can be. Where one then begins too late after another, the other is forbidden to begin
 * any sooner than would just do, and all is put anew. No start that is forbidden so could have done, as long as the steps of
 * the chain do not compete for hands among themselves: the place found is then the soonest there is.
 */
export function placeChain(
  chain: readonly number[],
  tasks: readonly DayTask[],
  links: TaskLinks,
  inUse: HandsInUse,
  startsMin: Float64Array,
): boolean {
  const boundsMin = new Map<number, number>();
  const mark = inUse.mark();
  let giveUpMin = Number.POSITIVE_INFINITY;
  for (;;) {
    for (const n of chain) startsMin[n] = placeTask(n, tasks, links, inUse, startsMin, boundsMin.get(n) ?? 0);
    if (giveUpMin === Number.POSITIVE_INFINITY) giveUpMin = startsMin[chain[0]] + HORIZON_MIN;
    if (!raiseBounds(chain, tasks, links, startsMin, boundsMin)) return true;
    inUse.rollBack(mark);
    for (const bound of boundsMin.values()) if (bound > giveUpMin) return false;
  }
}

function placeTask(
  n: number,
  tasks: readonly DayTask[],
  { before }: TaskLinks,
  inUse: HandsInUse,
  startsMin: Float64Array,
  boundMin: number,
): number {
  const { minutes, hands, soonestMin } = tasks[n];
  let readyMin = soonestMin;
  for (const other of before[n]) readyMin = Math.max(readyMin, startsMin[other] + tasks[other].minutes);
  if (hands === 0) return readyMin;
  const startMin = inUse.soonest(Math.max(readyMin, boundMin), minutes, hands);
  inUse.take(startMin, minutes, hands);
  return startMin;
}

/** Raises the bounds of steps after which another begins too late; from the back, so that one pass goes down a whole chain. */
function raiseBounds(
  chain: readonly number[],
  tasks: readonly DayTask[],
  { limits }: TaskLinks,
  startsMin: Float64Array,
  boundsMin: Map<number, number>,
): boolean {
  let isRaised = false;
  for (let k = chain.length - 1; k >= 0; k--) {
    const n = chain[k];
    const beginsMin = Math.max(startsMin[n], boundsMin.get(n) ?? 0);
    for (const { of, withinMin } of limits[n]) {
      const neededMin = beginsMin - withinMin - tasks[of].minutes;
      if (neededMin <= startsMin[of] || neededMin <= (boundsMin.get(of) ?? 0)) continue;
      boundsMin.set(of, neededMin);
      isRaised = true;
    }
  }
  return isRaised;
}
