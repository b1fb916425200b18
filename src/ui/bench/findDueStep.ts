import type { Timer } from '../../session/timers.ts';
import { type BenchStep, isWait } from './BenchStep.ts';

/**
 * The step that is due: the first that is not done, but for waits whose clock has run out. Null when all are done.
 *
 * @param timerIdOf under which id a wait's clock runs.
 */
export function findDueStep(
  steps: readonly BenchStep[],
  timers: readonly Timer[],
  nowMs: number,
  timerIdOf: (step: BenchStep) => string,
): BenchStep | null {
  const isOver = (step: BenchStep): boolean => {
    if (!isWait(step)) return false;
    const id = timerIdOf(step);
    return timers.some((timer) => timer.id === id && timer.endMs <= nowMs);
  };
  return steps.find((step) => !step.isDone && !isOver(step)) ?? null;
}
