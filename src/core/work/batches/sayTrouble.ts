import { listWords } from '../../listWords.ts';
import type { MaterialSystem } from '../../material/MaterialSystem.ts';
import type { CoatWork, WorkNote } from '../../PlanResult.ts';
import type { BenchPlan } from '../../plan/PlanDocument.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatMass, formatVolume, type UnitSystem } from '../../units.ts';
import { sayCoat } from '../sayCoat.ts';
import type { BatchLimits } from './batchLimits.ts';
import { finestFirst, isInRatio, type MixPart, type Weighing, weighOnce } from './weighBatch.ts';

const MM3_PER_ML = 1000;

/** Why no batch of a coat can be made, in numbers, and what to change. */
export function noBatchNote(
  bench: BenchPlan,
  system: MaterialSystem,
  work: CoatWork,
  limits: BatchLimits,
  count: number,
): WorkNote {
  const { workingMin } = work.times;
  const minutes = [
    `mixing takes ${sayMin(system.mixing.mixMin)}`,
    ...(limits.stirMin > 0
      ? [`stirring the ${system.reinforcement?.name} in ${sayMin(limits.stirMin)}`]
      : []),
    `the margin ${sayMin(bench.marginMin)}`,
  ];
  const spent = listWords(minutes);
  if (limits.layableMin <= 0) {
    return note(
      'no-time-to-lay',
      work,
      () =>
        `The mix of ${sayCoat(work)} works for ${sayMin(workingMin)}; ${spent}, which leaves nothing to lay it up in. Slow the mix down, mix faster, or keep a smaller margin.`,
    );
  }
  if (limits.by === 'time') {
    return note(
      'no-time-to-lay',
      work,
      () =>
        `The mix of ${sayCoat(work)} works for ${sayMin(workingMin)}; ${spent}, which leaves ${sayMin(limits.layableMin)}: so little is laid up in it that the coat would take ${count} batches. Slow the mix down, or put more hands to it.`,
    );
  }
  const { by } = limits;
  const sayWhat = (units: UnitSystem): string =>
    ({
      bucket: `a bucket of ${formatVolume(bench.bucketMl * MM3_PER_ML, units)} filled to ${Math.round(bench.bucketFillShare * 100)} %`,
      mixer: `a mixer for ${formatMass(bench.mixerMostG ?? 0, units)}`,
      scale: 'the scale that carries most',
    })[by];
  const sayOften = (units: UnitSystem): string =>
    Number.isFinite(count)
      ? `the coat would take ${count} batches`
      : `nothing is left for the wall once ${formatMass(system.lossPerBatchG, units)} a batch stays in the bucket`;
  return note(
    'bucket-too-small',
    work,
    (units) =>
      `${sayCoat(work)} takes ${formatMass(work.toLayG, units)}, and with ${sayWhat(units)} ${sayOften(units)}. Give the bench a larger one.`,
  );
}

/** Which part cannot be weighed, by how much it is off, and the step that would do. */
export function ratioNote(
  bench: BenchPlan,
  work: CoatWork,
  parts: readonly MixPart[],
  weighing: Weighing,
): WorkNote {
  const { name, massG, exactG, scale } = weighing.worst;
  const stepG = stepThatDoes(bench, parts, weighing);
  const advice =
    stepG === null
      ? 'No scale would do: raise the dose or the tolerance.'
      : `A scale that steps by ${sayG(stepG)} would do.`;
  const percent = (share: number): string => `${Number((share * 100).toPrecision(2))} %`;
  return note(
    'ratio-off',
    work,
    () =>
      `${sayCoat(work)}: ${sayG(exactG)} of ${name} a batch cannot be weighed within ${percent(bench.ratioTolerance)} on ${scale.name}, which steps by ${sayG(scale.stepG)}: ${sayG(massG)} puts it ${percent(weighing.ratioOff)} off its part. ${advice}`,
  );
}

/** No shop has a finer scale than this, g: a hundredth of a milligram is a laboratory's. */
const FINEST_STEP_G = 1e-5;

/**
 * The coarsest step, of those that scales are made with, that gets such a batch into the ratio on a scale that carries
 * as much as the bench's finest; null: none.
 */
function stepThatDoes(bench: BenchPlan, parts: readonly MixPart[], weighing: Weighing): number | null {
  const { exactG } = weighing.worst;
  const mostG = Math.max(2 * exactG, finestFirst(bench.scales)[0].mostG);
  let stepG = roundStepDown(2 * bench.ratioTolerance * exactG);
  while (stepG >= FINEST_STEP_G) {
    const finer = { name: '', mostG, stepG };
    const tried = weighOnce(parts, weighing.mixedG, finestFirst([...bench.scales, finer]));
    if (isInRatio(tried, bench.ratioTolerance)) return stepG;
    stepG = roundStepDown(stepG * 0.99);
  }
  return null;
}

/** The next of 1, 2 and 5 times a power of ten that is no larger: what scales are made with. */
function roundStepDown(stepG: number): number {
  const decade = 10 ** Math.floor(Math.log10(stepG));
  const lead = (stepG / decade) * (1 + 1e-9);
  return Number(((lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * decade).toPrecision(1));
}

function note(code: string, work: CoatWork, say: (units: UnitSystem) => string): WorkNote {
  return { code, piece: work.piece, coat: work.coat, ...sayBoth('text', say) };
}

function sayMin(minutes: number): string {
  return `${Number(minutes.toFixed(1))} min`;
}

/** Grams in either system, as gram scales show them. Small weights keep three figures: what matters here is less than a gram. */
function sayG(massG: number): string {
  return `${massG >= 100 ? Math.round(massG) : Number(massG.toPrecision(3))} g`;
}
