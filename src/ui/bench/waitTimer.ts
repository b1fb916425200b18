import type { PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { CoatPlan } from '../../core/plan/PlanDocument.ts';
import { timerId } from '../../session/timers.ts';
import { cureTimer, type StepTimer } from '../day/stepTimer.ts';

/** The clock of a wait: a coat's cure runs under the id under which its log starts it, anything else under the step's own. */
export function waitTimer(
  job: string,
  task: TaskResult,
  { coatWork }: Pick<PlanResult, 'coatWork'>,
  coats: readonly Pick<CoatPlan, 'name' | 'waitMin'>[],
): StepTimer {
  const work = coatWork.find((one) => one.piece === task.piece && one.coat === task.coatNumber);
  if (task.kind === 'cure' && work) return cureTimer(job, work, coats);
  return { id: timerId(job, task.id), label: task.what, minutes: task.endMin - task.startMin };
}
