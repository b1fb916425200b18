import type { TaskResult } from '../../core/PlanResult.ts';

/** What a timer begun at a step of the schedule is called and how long it runs, minutes. Its id is the step's own. */
export interface StepTimer {
  readonly id: string;
  readonly label: string;
  readonly minutes: number;
}

/** The countdown of a step as long as the schedule gives it. */
export function stepTimer({ id, what, startMin, endMin }: TaskResult): StepTimer {
  return { id, label: what, minutes: endMin - startMin };
}
