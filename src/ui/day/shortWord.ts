import type { TaskKind, TaskResult } from '../../core/PlanResult.ts';

/** A word for each kind of step that fits on a bar. */
const WORDS: Readonly<Record<TaskKind, string>> = {
  wall: 'wall',
  release: 'release',
  dry: 'dry',
  'set-out': 'set out',
  batch: 'mix',
  cure: 'cure',
  shims: 'shims out',
  clean: 'edge',
  trim: 'trim',
  open: 'open',
  assemble: 'close',
};

/** What is written on a step's bar: a batch by its number within its coat, anything else by one word. */
export function shortWord({ kind, batch }: TaskResult): string {
  return kind === 'batch' && batch !== null ? String(batch) : WORDS[kind];
}
