import type { TaskResult } from '../../core/PlanResult.ts';
import type { UnitSystem } from '../../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../../report/sayClock.ts';

export interface StepWords {
  /** "Tue 1 Dec 08:40 to 09:05", over midnight with the second day named. */
  readonly when: string;
  /** "Tue 1 Dec 08:40". */
  readonly begins: string;
  /** "25 min, hands on", "1 h 30 min, by itself", "25 min, hands 2". */
  readonly how: string;
  /** "Not before 09:05, at the latest by Tue 1 Dec 13:00"; '' when it is free. */
  readonly bounds: string;
}

/** Who is at it: a batch is laid by all hands together. */
export function sayHands({ attended, kind, who }: TaskResult, hands: number): string {
  if (!attended) return 'by itself';
  if (hands === 1 || who === null) return 'hands on';
  return kind === 'batch' ? 'all hands' : `hands ${who}`;
}

/** A step of the schedule in words; `hands` is how many pairs there are. */
export function sayStep(
  task: TaskResult,
  startDate: string | null,
  hands: number,
  system: UnitSystem,
): StepWords {
  const day = (minutes: number) => sayDay(minutes, startDate, system);
  const at = (minutes: number) =>
    day(minutes) === day(task.startMin)
      ? sayClock(minutes, system)
      : `${day(minutes)} ${sayClock(minutes, system)}`;
  const who = sayHands(task, hands);
  const soonest = task.soonestMin === null ? '' : `not before ${at(task.soonestMin)}`;
  const latest = task.latestMin === null ? '' : `begun by ${at(task.latestMin)} at the latest`;
  const bounds = [soonest, latest].filter(Boolean).join(', ');
  return {
    when: `${day(task.startMin)} ${sayClock(task.startMin, system)} to ${at(task.endMin)}`,
    begins: `${day(task.startMin)} ${sayClock(task.startMin, system)}`,
    how: `${sayMinutes(task.endMin - task.startMin)}, ${who}`,
    bounds: bounds.charAt(0).toUpperCase() + bounds.slice(1),
  };
}
