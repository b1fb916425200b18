import { availableParallelism } from 'node:os';

/** More threads than this find no work. */
const MOST_THREADS = 2;

/** Threads beside the command's own: SCUTE_THREADS (1 or more, its own among them), else as many as the machine has and find work. */
export function spareThreads(): number {
  const asked = Number(process.env.SCUTE_THREADS ?? availableParallelism());
  return Number.isFinite(asked) ? Math.max(0, Math.min(MOST_THREADS, Math.floor(asked)) - 1) : 0;
}
