import type { MaterialSystem } from '../../material/MaterialSystem.ts';
import { type Mix, mixOf } from '../../material/mixOf.ts';
import type { CoatWork } from '../../PlanResult.ts';
import type { BenchPlan, CoatPlan } from '../../plan/PlanDocument.ts';
import { finestFirst, type MixPart, roundingRoomG } from './weighBatch.ts';

/** What holds one batch of a coat down. */
export interface BatchLimits {
  /**
   * The most that may be laid up from one batch, g, room for rounding the weights left; 0 or less: no batch will do.
   */
  readonly mostLaidG: number;
  /** The most that may be mixed for one batch, g, reinforcement that is laid in counted. */
  readonly mostMixedG: number;
  /** Which of the limits it is that binds. */
  readonly by: 'time' | 'bucket' | 'mixer' | 'scale';
  /** Left of the working time for laying up, minutes; 0 or less: none. */
  readonly layableMin: number;
  /** Mixing with stirring the fibre in, minutes. */
  readonly mixMin: number;
  readonly stirMin: number;
  /** Area laid up in a minute by all hands, mm2. */
  readonly paceMm2PerMin: number;
  /** Density of what is in the bucket, g/cm3, and its share of what is mixed: a sheet does not go into the bucket. */
  readonly bucketGPerCm3: number;
  readonly bucketShare: number;
}

const MM2_PER_CM2 = 100;
const S_PER_MIN = 60;

/**
 * The limits of one batch: what the bucket holds filled as far as the bench says, what the mixer turns over, the
 * heaviest part on the scale that carries most, and what is laid up at the bench's pace in what mixing, stirring and
 * the margin leave of the working time. Losses as planned: mixed = laid x (1 + lossShare) + lossPerBatchG. Source: own.
 * Limits: the mix is taken to fill the bucket as dense as it is laid up, air counted; the scale carries the part alone,
 * its pot tared within the range.
 */
export function batchLimits(
  bench: BenchPlan,
  system: MaterialSystem,
  coat: CoatPlan,
  mix: Mix,
  parts: readonly MixPart[],
  work: CoatWork,
): BatchLimits {
  const { reinforcement } = system;
  const isSheet = reinforcement?.form === 'sheet';
  const bucketShare = isSheet ? 1 - mix.reinforcementShare : 1;
  const bucketGPerCm3 = isSheet
    ? mixOf(system, { ...coat, reinforcementShare: 0 }).densityGPerCm3
    : mix.densityGPerCm3;
  const isStirred = mix.reinforcementShare > 0 && reinforcement?.form === 'chopped';
  const stirMin = isStirred ? (system.mixing.reinforcementMixS ?? 0) / S_PER_MIN : 0;
  const mixMin = system.mixing.mixMin + stirMin;
  const layableMin = work.times.workingMin - mixMin - bench.marginMin;
  const paceMm2PerMin = bench.paceCm2PerMin[work.kind] * MM2_PER_CM2 * bench.hands;

  const fineFirst = finestFirst(bench.scales);
  const mostOnScaleG = Math.max(...bench.scales.map((scale) => scale.mostG));
  const largestShare = Math.max(...parts.map((part) => part.share));
  const mixed: [BatchLimits['by'], number][] = [
    ['bucket', (bench.bucketMl * bench.bucketFillShare * bucketGPerCm3) / bucketShare],
    ['mixer', bench.mixerMostG === null ? Number.POSITIVE_INFINITY : bench.mixerMostG / bucketShare],
    ['scale', mostOnScaleG / largestShare],
  ];
  const [mixedBy, mostMixedG] = mixed.reduce((least, one) => (one[1] < least[1] ? one : least));
  const roomG = roundingRoomG(parts, mostMixedG, fineFirst);
  const laidByMixedG = (mostMixedG - roomG - system.lossPerBatchG) / (1 + system.lossShare);
  // The whole coat covers its whole area, whatever of it is on the wall already.
  const laidByTimeG = (work.laidG + work.toLayG) * ((layableMin * paceMm2PerMin) / work.areaMm2);
  const isTime = work.areaMm2 > 0 && laidByTimeG < laidByMixedG;
  return {
    mostLaidG: isTime ? laidByTimeG : laidByMixedG,
    mostMixedG,
    by: isTime ? 'time' : mixedBy,
    layableMin,
    mixMin,
    stirMin,
    paceMm2PerMin,
    bucketGPerCm3,
    bucketShare,
  };
}
