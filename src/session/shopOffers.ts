import { COAT_KINDS, type CoatKind, type PlanDocument } from '../core/plan/PlanDocument.ts';
import type { FinishedJob } from './FinishedJob.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Of so many batches, the newest jobs' first: older habits and hands say less. Own choice. */
const LAST_BATCHES = 30;
/** From fewer batches nothing is offered. Own choice, as for the lessons of one job. */
const LEAST_BATCHES = 3;
/** What differs by less than this share from what the plan says already is no news. Own choice. */
const NEWS_SHARE = 0.05;

/** The shop's own measured value in place of the plan's. */
export interface ShopOffer {
  /** 'waste': what stays in the bucket, g a batch. A kind of coat: area that one pair of hands lays up in a minute, cm2. */
  readonly kind: 'waste' | CoatKind;
  /** The system that the waste is of; null for a pace. */
  readonly systemId: string | null;
  /** Median, to three digits. */
  readonly value: number;
  /** What the plan says now. */
  readonly instead: number;
  /** How many batches it is of, and the names of the jobs, newest first. */
  readonly batches: number;
  readonly jobs: readonly string[];
}

/** What jobs have taught that the plan does not say yet: the waste first, then the paces of the kinds of its coats. */
export function listOffers(plan: PlanDocument, jobs: readonly FinishedJob[]): ShopOffer[] {
  const kinds = COAT_KINDS.filter((kind) => plan.coats.some((coat) => coat.kind === kind));
  return (['waste', ...kinds] as const).flatMap((kind) => offerFor(plan, jobs, kind) ?? []);
}

/** The offer for one value of the plan; null where too little was measured or where the plan says the same. */
export function offerFor(
  plan: PlanDocument,
  jobs: readonly FinishedJob[],
  kind: ShopOffer['kind'],
): ShopOffer | null {
  const { id } = plan.material;
  const values: number[] = [];
  const names: string[] = [];
  for (const job of [...jobs].sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0))) {
    const own =
      kind === 'waste' ? (job.systemId === id ? job.wastesG : []) : (job.pacesCm2PerMin[kind] ?? []);
    const room = LAST_BATCHES - values.length;
    if (own.length === 0 || room <= 0) continue;
    // The newest of a job stand last in its log.
    values.push(...own.slice(-room));
    names.push(job.name);
  }
  if (values.length < LEAST_BATCHES) return null;
  const value = Number(middleOf(values).toPrecision(3));
  const instead = kind === 'waste' ? plan.material.lossPerBatchG : plan.bench.paceCm2PerMin[kind];
  if (Math.abs(value - instead) <= NEWS_SHARE * instead || (kind !== 'waste' && value <= 0)) return null;
  return {
    kind,
    systemId: kind === 'waste' ? id : null,
    value,
    instead,
    batches: values.length,
    jobs: names,
  };
}

/** Takes the shop's own value into the plan; a waste of another system than the plan's is left unheard. */
export function takeOffer(offer: ShopOffer): PlanEdit {
  const { kind, value } = offer;
  if (!Number.isFinite(value) || value < 0) return (plan) => plan;
  if (kind !== 'waste') {
    return (plan) => ({
      ...plan,
      bench: { ...plan.bench, paceCm2PerMin: { ...plan.bench.paceCm2PerMin, [kind]: value } },
    });
  }
  return (plan) => {
    if (plan.material.id !== offer.systemId) return plan;
    const basis = { kind: 'yours', text: `median of ${offer.batches} of your own batches` } as const;
    return {
      ...plan,
      material: {
        ...plan.material,
        lossPerBatchG: value,
        basis: { ...plan.material.basis, lossPerBatchG: basis },
      },
    };
  };
}

/** The median; of an even number the mean of the middle two. */
function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
