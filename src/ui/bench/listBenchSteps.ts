import type { BatchResult, PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { LogPlan } from '../../core/plan/PlanDocument.ts';
import type { StepTick } from '../../session/benchProgress.ts';
import type { BenchStep } from './BenchStep.ts';

/** Id of the step in which a batch is mixed and laid; the schedule names it so (core/work/day/batchTaskId.ts). */
export function batchStepId(batch: Pick<BatchResult, 'piece' | 'coatNumber' | 'number'>): string {
  return `${batch.piece}/coat${batch.coatNumber + 1}/batch${batch.number}`;
}

/**
 * Every step of the work one after the other: first what is done, in the order in which it was (batches by the log, other
 * steps by their ticks), then what the schedule still has. A wait stands where it ends, not where it begins, since what can
 * be done meanwhile comes before it.
 */
export function listBenchSteps(
  { schedule, batches, pieces }: Pick<PlanResult, 'schedule' | 'batches' | 'pieces'>,
  log: Pick<LogPlan, 'batches'>,
  ticks: readonly StepTick[],
): readonly BenchStep[] {
  const tasks = new Map(schedule.map((task) => [task.id, task]));
  const batchOf = new Map(batches.map((batch) => [batchStepId(batch), batch]));
  const done: { readonly step: BenchStep; readonly atMs: number }[] = [];
  /** Taken back from the log a moment ago: the schedule has them again with the next answer. */
  const back: BenchStep[] = [];
  for (const batch of batches) {
    const id = batchStepId(batch);
    const name = pieces.find((piece) => piece.id === batch.piece)?.name ?? batch.piece;
    const what = `${name}: ${batch.coat}, batch ${batch.number} of ${batch.of}`;
    const atMs = loggedMs(batch, log);
    if (atMs !== null) done.push({ step: { id, what, task: null, batch, isDone: true }, atMs });
    else if (!tasks.has(id)) back.push({ id, what, task: null, batch, isDone: false });
  }
  for (const { id, what, atMs } of ticks) {
    if (batchOf.has(id)) continue;
    const task = tasks.get(id) ?? null;
    done.push({ step: { id, what: task?.what ?? what, task, batch: null, isDone: true }, atMs });
  }
  const doneIds = new Set(done.map(({ step }) => step.id));
  const toDo = schedule.filter(({ id }) => !doneIds.has(id)).toSorted(byTurn);
  return [
    ...done.toSorted((a, b) => a.atMs - b.atMs).map(({ step }) => step),
    ...back,
    ...toDo.map((task) => {
      const batch = task.kind === 'batch' ? (batchOf.get(task.id) ?? null) : null;
      return { id: task.id, what: task.what, task, batch, isDone: false };
    }),
  ];
}

/** A wait before what begins at its end; else in the schedule's order. */
function byTurn(a: TaskResult, b: TaskResult): number {
  const turn = (task: TaskResult): number => (task.attended ? task.startMin : task.endMin);
  return turn(a) - turn(b) || Number(a.attended) - Number(b.attended);
}

/** When a batch was logged, ms since 1970; null: it was not. One without a time that can be read was before all else. */
function loggedMs(batch: BatchResult, log: Pick<LogPlan, 'batches'>): number | null {
  const logged = log.batches.find(
    (one) => one.piece === batch.piece && one.coat === batch.coatNumber && one.number === batch.number,
  );
  if (!logged) return null;
  const atMs = Date.parse(logged.at);
  return Number.isFinite(atMs) ? atMs : 0;
}
