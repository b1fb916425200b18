import type { MaterialLot } from '../core/material/MaterialSystem.ts';
import { COAT_KINDS, type CoatKind, type PlanDocument } from '../core/plan/PlanDocument.ts';
import type { LogLessons } from '../core/work/log/learnFromLog.ts';

/** The number goes up when an older page could not read it any more. */
const FORMAT = 'scute-shop/1';

/** More values than any job has batches; a list that is longer is damaged. */
const MOST_VALUES = 2000;

/** What a job taught the shop: measured values, batch by batch, so that those of several jobs can be put together. */
export interface FinishedJob {
  readonly schema: typeof FORMAT;
  readonly name: string;
  /** Day of its first logged batch, "2026-12-01". */
  readonly date: string;
  /** The system that the shell was built of. */
  readonly systemId: string;
  readonly systemName: string;
  /** What stayed in the bucket, g, a batch each. */
  readonly wastesG: readonly number[];
  /** Area that one pair of hands laid up in a minute, cm2, a batch each. */
  readonly pacesCm2PerMin: Readonly<Partial<Record<CoatKind, readonly number[]>>>;
  /** Lots that were measured, by the system that they are of. */
  readonly lots: readonly { readonly systemId: string; readonly lot: MaterialLot }[];
}

/** What a job with this log has taught. `today` ("2026-12-01") stands in where the log tells no day. */
export function finishJob(plan: PlanDocument, lessons: LogLessons, today: string): FinishedJob {
  const days = plan.log.batches.map(({ at }) => at.slice(0, 10)).filter(isDay);
  const pacesCm2PerMin: Partial<Record<CoatKind, readonly number[]>> = {};
  for (const kind of COAT_KINDS) {
    const pace = lessons.paceCm2PerMin[kind];
    if (pace) pacesCm2PerMin[kind] = pace.values;
  }
  const systems = [plan.material, ...plan.otherMaterials, plan.rubber, plan.filler];
  return {
    schema: FORMAT,
    name: plan.job.name,
    date: days.sort()[0] ?? today,
    systemId: plan.material.id,
    systemName: plan.material.name,
    wastesG: lessons.wastePerBatchG?.values ?? [],
    pacesCm2PerMin,
    lots: systems.flatMap((system) =>
      system.lots.filter(isMeasured).map((lot) => ({ systemId: system.id, lot })),
    ),
  };
}

/** Names a job: the same job remembered once more takes the place of what it taught before. */
export function keyOfJob(job: Pick<FinishedJob, 'date' | 'name'>): string {
  return `${job.date} ${job.name}`;
}

/** True when there is something in it worth keeping. */
export function hasLessons(job: FinishedJob): boolean {
  return job.wastesG.length > 0 || Object.keys(job.pacesCm2PerMin).length > 0 || job.lots.length > 0;
}

/** A kept job out of unchecked JSON, or in words why it cannot be read. Never throws. */
export function readJob(stored: unknown): FinishedJob | string {
  if (!isTable(stored)) return 'It is not a table.';
  if (stored.schema !== FORMAT) return `Its format is not "${FORMAT}".`;
  const { name, date, systemId, systemName, wastesG, pacesCm2PerMin, lots } = stored;
  if (typeof name !== 'string') return 'Its “name” is not text.';
  if (typeof date !== 'string' || !isDay(date)) return 'Its “date” is not a day such as "2026-12-01".';
  if (typeof systemId !== 'string' || typeof systemName !== 'string')
    return 'Its “systemId” or “systemName” is not text.';
  if (!isMeasures(wastesG, 0)) return 'Its “wastesG” is not a list of masses.';
  if (!isTable(pacesCm2PerMin)) return 'Its “pacesCm2PerMin” is not a table.';
  const paces: Partial<Record<CoatKind, readonly number[]>> = {};
  for (const kind of COAT_KINDS) {
    const values = pacesCm2PerMin[kind];
    if (values === undefined) continue;
    if (!isMeasures(values, Number.MIN_VALUE)) return `Its “pacesCm2PerMin.${kind}” is not a list of paces.`;
    paces[kind] = values;
  }
  if (!Array.isArray(lots)) return 'Its “lots” is not a list.';
  const readLots: FinishedJob['lots'][number][] = [];
  for (const one of lots) {
    if (!isTable(one) || typeof one.systemId !== 'string' || !isLot(one.lot))
      return 'One of its “lots” is not a measured lot.';
    readLots.push({ systemId: one.systemId, lot: one.lot });
  }
  return { schema: FORMAT, name, date, systemId, systemName, wastesG, pacesCm2PerMin: paces, lots: readLots };
}

function isTable(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isDay(text: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(text));
}

function isMeasures(value: unknown, least: number): value is readonly number[] {
  return (
    Array.isArray(value) &&
    value.length <= MOST_VALUES &&
    value.every((one) => typeof one === 'number' && Number.isFinite(one) && one >= least)
  );
}

function isLot(value: unknown): value is MaterialLot {
  if (!isTable(value) || typeof value.lot !== 'string') return false;
  const measures = [value.densityGPerCm3, value.workingMin, value.partialCureMin, value.fullCureMin];
  return measures.every(
    (one) => one === null || (typeof one === 'number' && Number.isFinite(one) && one > 0),
  );
}

function isMeasured(lot: MaterialLot): boolean {
  return [lot.densityGPerCm3, lot.workingMin, lot.partialCureMin, lot.fullCureMin].some(
    (one) => one !== null,
  );
}
