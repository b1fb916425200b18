import { firstPlanIssue } from '../core/plan/firstPlanIssue.ts';
import type { LoggedBatch, LogPlan, ProbedPoint } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Two measurements nearer to each other than this are of one point, mm: no pin is put back more exactly. */
const SAME_POINT_MM = 0.5;

/** Which batch: id of the piece, number of the coat from 0, number of the batch within it from 1. */
export type BatchKey = Pick<LoggedBatch, 'piece' | 'coat' | 'number'>;

/** A log that no plan could be opened with again is left unheard. */
const changeLog =
  (change: (log: LogPlan) => Partial<LogPlan>): PlanEdit =>
  (plan) => {
    const next = { ...plan, log: { ...plan.log, ...change(plan.log) } };
    return 'issue' in firstPlanIssue(next) ? plan : next;
  };

const unchanged: PlanEdit = (plan) => plan;

/**
 * Ticks a batch with what was really mixed; ticked once more it is put right. Left unheard where the numbers cannot be: a
 * mass of nothing, more left than was mixed, no such coat.
 */
export function logBatch(batch: LoggedBatch): PlanEdit {
  const { mixedG, leftG, layMin } = batch;
  if ((leftG !== null && leftG > mixedG) || layMin === 0) return unchanged;
  return (plan) =>
    batch.coat < plan.coats.length
      ? changeLog(({ batches }) => ({
          batches: batches.some((one) => isSameBatch(one, batch))
            ? batches.map((one) => (isSameBatch(one, batch) ? batch : one))
            : [...batches, batch],
        }))(plan)
      : plan;
}

/** Takes the tick of a batch away again. */
export const unlogBatch = (key: BatchKey): PlanEdit =>
  changeLog(({ batches }) => ({ batches: batches.filter((one) => !isSameBatch(one, key)) }));

/** The coat is finished, whatever was planned: the next one makes up or saves the difference. */
export function closeCoat(piece: string, coat: number): PlanEdit {
  return (plan) => {
    const isClosed = plan.log.closed.some((one) => one.piece === piece && one.coat === coat);
    if (isClosed || coat >= plan.coats.length) return plan;
    return changeLog(({ closed }) => ({ closed: [...closed, { piece, coat }] }))(plan);
  };
}

export const reopenCoat = (piece: string, coat: number): PlanEdit =>
  changeLog(({ closed }) => ({ closed: closed.filter((one) => one.piece !== piece || one.coat !== coat) }));

/** Notes a measured thickness; at the same point with as many coats on it takes the place of the one before. */
export function addProbe(probe: ProbedPoint): PlanEdit {
  if (probe.thicknessMm === 0) return unchanged;
  return (plan) =>
    probe.coatsOn <= plan.coats.length
      ? changeLog(({ probes }) => ({ probes: [...probes.filter((one) => !isSameProbe(one, probe)), probe] }))(
          plan,
        )
      : plan;
}

/** Takes a measurement away, by its place in the log's list. */
export const removeProbe = (index: number): PlanEdit =>
  changeLog(({ probes }) => ({ probes: probes.filter((_, i) => i !== index) }));

/** A finished job's log is put aside, so that the same mould can be built again from the plan. */
export const clearLog = (): PlanEdit => changeLog(() => ({ batches: [], probes: [], closed: [] }));

function isSameBatch(a: BatchKey, b: BatchKey): boolean {
  return a.piece === b.piece && a.coat === b.coat && a.number === b.number;
}

function isSameProbe(a: ProbedPoint, b: ProbedPoint): boolean {
  const [x, y, z] = a.pointMm.map((value, k) => value - b.pointMm[k]);
  return a.coatsOn === b.coatsOn && Math.hypot(x, y, z) < SAME_POINT_MM;
}
