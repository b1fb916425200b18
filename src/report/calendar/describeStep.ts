import type { PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../core/units.ts';
import { readSaid } from '../readSaid.ts';
import { sayClock, sayDay, sayMinutes } from '../sayClock.ts';
import { sayGrams } from '../sayGrams.ts';
import { cautionsBeside, cautionsOfAll } from './cautionsBeside.ts';

/** What stands under a step in the calendar: whose work it is, what to weigh, its bounds, the cautions that belong to it. */
export function describeStep(
  task: TaskResult,
  isFirst: boolean,
  plan: PlanDocument,
  result: PlanResult,
  startDate: string,
  system: UnitSystem,
): string {
  const clock = (minutes: number): string =>
    `${sayDay(minutes, startDate, system)}, ${sayClock(minutes, system)}`;
  const cautions = [...cautionsBeside(task, result), ...(isFirst ? cautionsOfAll(result) : [])];
  return [
    ...(plan.job.name === '' ? [] : [`Job: ${plan.job.name}`]),
    sayWho(task, plan.bench.hands),
    ...sayBatch(task, result, system),
    ...(task.soonestMin === null ? [] : [`Not before ${clock(task.soonestMin)}.`]),
    ...(task.latestMin === null
      ? []
      : [`Begun by ${clock(task.latestMin)} at the latest, to bond with the coat below.`]),
    ...cautions.map((caution) => `${caution.step}: ${readSaid(caution, 'text', system)}`),
  ].join('\n');
}

function sayWho(task: TaskResult, hands: number): string {
  const takes = sayMinutes(task.endMin - task.startMin);
  if (!task.attended) return `Takes ${takes} by itself.`;
  if (hands === 1 || task.who === null) return `Takes ${takes}.`;
  return `Takes ${takes}, ${task.kind === 'batch' ? 'all hands' : `hands ${task.who}`}.`;
}

/** In the order in which it goes into the bucket. */
function sayBatch(task: TaskResult, result: PlanResult, system: UnitSystem): string[] {
  const batch = result.batches.find(
    (one) => one.piece === task.piece && one.coatNumber === task.coatNumber && one.number === task.batch,
  );
  if (batch === undefined || task.kind !== 'batch') return [];
  return [
    'Weigh, in this order:',
    ...batch.steps.map((step) => {
      const say = readSaid(step, 'say', system);
      return [
        `- ${step.item} ${sayGrams(step.massG, system)}`,
        step.scale === '' ? '' : ` on ${step.scale}`,
        say === '' ? '' : `; ${say}`,
      ].join('');
    }),
    `Together ${sayGrams(batch.mixedG, system)}. The mix works for ${sayMinutes(batch.workingTimeMin)}.`,
  ];
}
