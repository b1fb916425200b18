import type { BatchResult, TaskResult } from '../../core/PlanResult.ts';

/** A step as the bench shows it, done or still to do. */
export interface BenchStep {
  /** Id of the step in the schedule: the same through every re-plan for as long as the step is there. */
  readonly id: string;
  readonly what: string;
  /** As the schedule has it now; null once the work has gone past it and the schedule is without it. */
  readonly task: TaskResult | null;
  /** What is mixed in it; null for anything but a batch. */
  readonly batch: BatchResult | null;
  readonly isDone: boolean;
}

/** A step in which nobody does anything: release dries, a coat sets. */
export function isWait({ task }: BenchStep): boolean {
  return task !== null && !task.attended;
}
