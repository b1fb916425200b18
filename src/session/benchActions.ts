import type { BenchPlan, CoatKind, ScalePlan } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

const changeBench =
  (change: (bench: BenchPlan) => BenchPlan): PlanEdit =>
  (plan) => {
    const bench = change(plan.bench);
    return bench === plan.bench ? plan : { ...plan, bench };
  };

/** A bucket's volume, ml; nothing and less are left unheard. */
export const setBucket = (bucketMl: number): PlanEdit =>
  changeBench((bench) => (bucketMl > 0 ? { ...bench, bucketMl } : bench));

/** How full the bucket may be, share of its volume, above 0 and at most 1. */
export const setBucketFill = (bucketFillShare: number): PlanEdit =>
  changeBench((bench) =>
    bucketFillShare > 0 && bucketFillShare <= 1 ? { ...bench, bucketFillShare } : bench,
  );

/** The most that the mixer turns over, g; null: only the bucket limits. */
export const setMixer = (mixerMostG: number | null): PlanEdit =>
  changeBench((bench) => (mixerMostG === null || mixerMostG > 0 ? { ...bench, mixerMostG } : bench));

/** How far a component may be off its part after rounding, share of it. */
export const setRatioTolerance = (ratioTolerance: number): PlanEdit =>
  changeBench((bench) => (ratioTolerance > 0 && ratioTolerance < 1 ? { ...bench, ratioTolerance } : bench));

/** Kept free at the end of the working time, minutes. */
export const setMargin = (marginMin: number): PlanEdit =>
  changeBench((bench) => (marginMin >= 0 ? { ...bench, marginMin } : bench));

/** Area that one pair of hands lays up in a minute, cm2. */
export const setPace = (kind: CoatKind, cm2PerMin: number): PlanEdit =>
  changeBench((bench) =>
    cm2PerMin > 0 ? { ...bench, paceCm2PerMin: { ...bench.paceCm2PerMin, [kind]: cm2PerMin } } : bench,
  );

/** People at work; whole and at least one. */
export const setHands = (hands: number): PlanEdit =>
  changeBench((bench) => (Number.isInteger(hands) && hands >= 1 ? { ...bench, hands } : bench));

export const setBatches = (batches: BenchPlan['batches']): PlanEdit =>
  changeBench((bench) => ({ ...bench, batches }));

/** Takes values of a scale: what it carries at most and in which steps it reads, g; the step is finer than the range. */
export const setScaleValues = (index: number, change: Partial<ScalePlan>): PlanEdit =>
  changeBench((bench) => {
    const scale = { ...bench.scales[index], ...change };
    if (!(scale.stepG > 0) || !(scale.mostG > scale.stepG) || scale.name === '') return bench;
    return { ...bench, scales: bench.scales.map((one, i) => (i === index ? scale : one)) };
  });

/** One more scale, as the last one but for its name: the user then says what it carries. */
export const addScale = (): PlanEdit =>
  changeBench((bench) => {
    const last = bench.scales[bench.scales.length - 1];
    return { ...bench, scales: [...bench.scales, { ...last, name: `scale ${bench.scales.length + 1}` }] };
  });

/** The last scale stays: without one nothing can be weighed. */
export const removeScale = (index: number): PlanEdit =>
  changeBench((bench) =>
    bench.scales.length > 1 ? { ...bench, scales: bench.scales.filter((_, i) => i !== index) } : bench,
  );
