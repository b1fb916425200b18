import type { DayTask } from '../../../../src/core/work/day/DayTask.ts';

/**
 * The soonest end of any schedule that keeps every rule and every limit, by trying every start there is; null when there is none
 * within the days given. For very small graphs with very short days: `worked` lists the days that are worked, [from, to)
 * in minutes after midnight of the first. Steps stand after what they wait for.
 */
export function leastEnd(
  tasks: readonly DayTask[],
  hands: number,
  worked: readonly (readonly [number, number])[],
): number | null {
  const numberOf = new Map(tasks.map(({ id }, n) => [id, n]));
  const starts = new Array<number>(tasks.length).fill(0);
  const endOf = (id: string): number => {
    const n = numberOf.get(id) as number;
    return starts[n] + tasks[n].minutes;
  };
  let best: number | null = null;
  const isFree = (n: number, startMin: number): boolean => {
    for (let atMin = startMin; atMin < startMin + tasks[n].minutes; atMin++) {
      let used = tasks[n].hands;
      for (let k = 0; k < n; k++) {
        if (starts[k] <= atMin && starts[k] + tasks[k].minutes > atMin) used += tasks[k].hands;
      }
      if (used > hands) return false;
    }
    return true;
  };
  const place = (n: number, endMin: number): void => {
    if (best !== null && endMin >= best) return;
    if (n === tasks.length) {
      best = endMin;
      return;
    }
    const { minutes, after, soonestMin, limits } = tasks[n];
    const readyMin = Math.max(soonestMin, ...after.map(endOf));
    if (tasks[n].hands === 0) {
      starts[n] = readyMin;
      place(n + 1, Math.max(endMin, readyMin + minutes));
      return;
    }
    for (const [fromMin, toMin] of worked) {
      for (let startMin = Math.max(fromMin, readyMin); startMin + minutes <= toMin; startMin++) {
        if (limits.some(({ of, withinMin }) => startMin > endOf(of) + withinMin)) break;
        if (!isFree(n, startMin)) continue;
        starts[n] = startMin;
        place(n + 1, Math.max(endMin, startMin + minutes));
      }
    }
  };
  place(0, 0);
  return best;
}
