import type { TaskResult } from '../../core/PlanResult.ts';
import { MIN_PER_DAY } from '../../report/sayClock.ts';

/** Width of a night or any other long stretch in which nobody works, in units of the picture. */
export const FOLD_WIDTH = 46;

/** A stretch of clock time, minutes after midnight of the first day, and where it lies in the picture. */
export interface AxisSpan {
  readonly fromMin: number;
  readonly toMin: number;
  readonly x: number;
  readonly width: number;
  /** Drawn narrower than it is: a night, a weekend. */
  readonly isFolded: boolean;
}

/** Clock time laid along the picture: spans in order, without gaps, from x = 0 to `width`. */
export interface DayAxis {
  readonly spans: readonly AxisSpan[];
  readonly width: number;
}

/**
 * Lays out the clock time of a schedule: hours in which somebody works at `perHour` units an hour, from full hour to full
 * hour; nights and days off, in which only cures go on, folded to FOLD_WIDTH. An empty schedule gives no spans.
 */
export function foldDay(
  tasks: readonly Pick<TaskResult, 'startMin' | 'endMin' | 'attended'>[],
  perHour: number,
): DayAxis {
  if (tasks.length === 0) return { spans: [], width: 0 };
  const worked = workedHours(tasks);
  const first = Math.min(...tasks.map((t) => t.startMin), worked[0]?.[0] ?? Infinity);
  const last = Math.max(...tasks.map((t) => t.endMin), worked.at(-1)?.[1] ?? -Infinity);
  const spans: AxisSpan[] = [];
  let x = 0;
  let at = floorHour(first);
  const put = (toMin: number, mayFold: boolean) => {
    if (!(toMin > at)) return;
    const open = ((toMin - at) / 60) * perHour;
    const isFolded = mayFold && open > FOLD_WIDTH;
    const width = isFolded ? FOLD_WIDTH : open;
    spans.push({ fromMin: at, toMin, x, width, isFolded });
    x += width;
    at = toMin;
  };
  for (const [from, to] of worked) {
    put(from, true);
    put(to, false);
  }
  put(last, true);
  return { spans, width: x };
}

/** Where an instant lies along the axis; before its beginning 0, after its end its width. */
export function xOnAxis({ spans, width }: DayAxis, minutes: number): number {
  for (const span of spans) {
    if (minutes >= span.toMin) continue;
    const share = (minutes - span.fromMin) / (span.toMin - span.fromMin);
    return span.x + Math.max(0, share) * span.width;
  }
  return width;
}

/** By day on which somebody works: from the full hour before the first attended step to the one after the last. */
function workedHours(
  tasks: readonly Pick<TaskResult, 'startMin' | 'endMin' | 'attended'>[],
): [number, number][] {
  const byDay = new Map<number, [number, number]>();
  for (const { startMin, endMin, attended } of tasks) {
    if (!attended) continue;
    const day = Math.floor(startMin / MIN_PER_DAY);
    const hours = byDay.get(day);
    const from = floorHour(startMin);
    const to = Math.ceil(endMin / 60) * 60;
    byDay.set(day, hours ? [Math.min(hours[0], from), Math.max(hours[1], to)] : [from, to]);
  }
  const sorted = [...byDay.values()].sort((a, b) => a[0] - b[0]);
  // A step that runs past midnight may reach into the next day's hours: the two are then one stretch.
  return sorted.reduce<[number, number][]>((joined, hours) => {
    const before = joined.at(-1);
    if (before && hours[0] <= before[1]) before[1] = Math.max(before[1], hours[1]);
    else joined.push(hours);
    return joined;
  }, []);
}

function floorHour(minutes: number): number {
  return Math.floor(minutes / 60) * 60;
}
