/** A step of the day ticked at the bench. Batches are not among them: those stand in the plan's log. */
export interface StepTick {
  /** Id of the step in the schedule. */
  readonly id: string;
  /** What it was, for people: it leaves the schedule once the work has gone past it. */
  readonly what: string;
  /** When it was ticked, ms since 1970, by this machine's clock. */
  readonly atMs: number;
}

/** A part of a batch on its way into the bucket. */
export interface PouredPart {
  readonly item: string;
  /** As it stood when the first part of the batch went in, g. */
  readonly massG: number;
  readonly isIn: boolean;
}

/**
 * A bucket that was begun: its weights stay as they were then, whatever the plan comes to meanwhile, since what is in it
 * cannot be taken out again.
 */
export interface Pour {
  /** Id of the batch's step in the schedule. */
  readonly batch: string;
  readonly parts: readonly PouredPart[];
}

/** How far one job has come at the bench, beside its log. */
export interface BenchProgress {
  /** Which job, by `SessionState.jobKey`. */
  readonly job: string;
  /** Id of the step that is looked at; null: the one that is due. */
  readonly at: string | null;
  readonly ticks: readonly StepTick[];
  readonly pours: readonly Pour[];
}

/** So many jobs are kept, latest first, and so many steps and buckets of each. Own choice: more than a shop has under way. */
const MOST_JOBS = 12;
const MOST_STEPS = 500;

/** Key of a job that the browser has not kept (yet), such as a demo as it came: its scan's name. Kept ones go by their id. */
export function unkeptJobKey(scanName: string): string {
  return `not kept: ${scanName}`;
}

/** Under which earlier versions kept a job: two plans over one scan could share it, and a new name lost it. */
export function formerJobKey(scanName: string, jobName: string): string {
  return `${scanName}/${jobName}`;
}

/** What stands under `from` stands under `to` as well, or `isMoved` there alone; what stood under `to` already stays as it is. */
export function carryProgress(
  all: readonly BenchProgress[],
  from: string,
  to: string,
  isMoved: boolean,
): readonly BenchProgress[] {
  const found = all.find(({ job }) => job === from);
  if (!found || from === to || all.some(({ job }) => job === to)) return all;
  const carried = { ...found, job: to };
  return isMoved ? all.map((one) => (one === found ? carried : one)) : putProgress(all, carried);
}

/** The job's own progress; nothing done yet where none is kept. */
export function progressOf(all: readonly BenchProgress[], job: string): BenchProgress {
  return all.find((one) => one.job === job) ?? { job, at: null, ticks: [], pours: [] };
}

/** All of them with this one in front. */
export function putProgress(all: readonly BenchProgress[], one: BenchProgress): readonly BenchProgress[] {
  return [one, ...all.filter(({ job }) => job !== one.job)].slice(0, MOST_JOBS);
}

/** With the step ticked; ticked once more it keeps its first time. */
export function tickStep(progress: BenchProgress, tick: StepTick): BenchProgress {
  if (progress.ticks.some(({ id }) => id === tick.id)) return progress;
  return { ...progress, ticks: [...progress.ticks, tick].slice(-MOST_STEPS) };
}

export function untickStep(progress: BenchProgress, id: string): BenchProgress {
  return { ...progress, ticks: progress.ticks.filter((tick) => tick.id !== id) };
}

/**
 * With one part of a batch in or, if it was, out again. The first one that goes in fixes the weights of all; when the last
 * one is taken out the bucket is empty and follows the plan again.
 *
 * @param planned the batch's parts in the order in which they go in, as the plan has them now.
 */
export function turnPart(
  progress: BenchProgress,
  batch: string,
  planned: readonly { readonly item: string; readonly massG: number }[],
  index: number,
): BenchProgress {
  const begun = progress.pours.find((pour) => pour.batch === batch);
  const before = begun?.parts ?? planned.map(({ item, massG }) => ({ item, massG, isIn: false }));
  const parts = before.map((part, n) => (n === index ? { ...part, isIn: !part.isIn } : part));
  const others = progress.pours.filter((pour) => pour.batch !== batch);
  const isEmpty = parts.every(({ isIn }) => !isIn);
  return { ...progress, pours: isEmpty ? others : [...others, { batch, parts }].slice(-MOST_STEPS) };
}

/** The bucket was thrown out: its batch is weighed out anew. */
export function emptyBucket(progress: BenchProgress, batch: string): BenchProgress {
  return { ...progress, pours: progress.pours.filter((pour) => pour.batch !== batch) };
}

/** Whatever an earlier visit kept, without what is odd. Never throws. */
export function readBenchProgress(stored: unknown): readonly BenchProgress[] {
  return listOf(stored)
    .flatMap((entry) => {
      const { job, at, ticks, pours } = fieldsOf(entry);
      if (typeof job !== 'string') return [];
      return [
        {
          job,
          at: typeof at === 'string' ? at : null,
          ticks: listOf(ticks).flatMap(readTick).slice(-MOST_STEPS),
          pours: listOf(pours).flatMap(readPour).slice(-MOST_STEPS),
        },
      ];
    })
    .slice(0, MOST_JOBS);
}

function readTick(stored: unknown): readonly StepTick[] {
  const { id, what, atMs } = fieldsOf(stored);
  const isSound = typeof id === 'string' && typeof what === 'string' && Number.isFinite(atMs);
  return isSound ? [{ id, what, atMs: Number(atMs) }] : [];
}

/** A bucket with one odd part is forgotten whole: half of its weights would be worse than none. */
function readPour(stored: unknown): readonly Pour[] {
  const { batch, parts } = fieldsOf(stored);
  const read = listOf(parts).flatMap((part): readonly PouredPart[] => {
    const { item, massG, isIn } = fieldsOf(part);
    const isSound = typeof item === 'string' && typeof massG === 'number' && massG > 0;
    return isSound && typeof isIn === 'boolean' ? [{ item, massG, isIn }] : [];
  });
  const isWhole = read.length > 0 && read.length === listOf(parts).length;
  return typeof batch === 'string' && isWhole ? [{ batch, parts: read }] : [];
}

function listOf(stored: unknown): readonly unknown[] {
  return Array.isArray(stored) ? stored : [];
}

function fieldsOf(stored: unknown): Readonly<Record<string, unknown>> {
  return typeof stored === 'object' && stored !== null ? (stored as Record<string, unknown>) : {};
}
