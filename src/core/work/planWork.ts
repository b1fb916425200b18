import type { PlanResult, WorkNote } from '../PlanResult.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';
import { planBatches } from './batches/planBatches.ts';
import { planDay } from './day/planDay.ts';
import { noteLog } from './log/noteLog.ts';
import { planCoatWork } from './log/planCoatWork.ts';
import { noteRecipes } from './noteRecipes.ts';
import { planCost } from './shopping/planCost.ts';
import { planShopping } from './shopping/planShopping.ts';
import type { WorkGround } from './WorkGround.ts';

export type WorkResult = Pick<
  PlanResult,
  'coatWork' | 'batches' | 'shopping' | 'schedule' | 'day' | 'cost' | 'workNotes'
>;

export type PlanWork = (plan: PlanDocument, ground: WorkGround) => WorkResult;

/** From amounts to what the hands do: coats, batches, shopping, the day, the cost, and what of it will not do. */
export function planWork(plan: PlanDocument, ground: WorkGround): WorkResult {
  const coatWork = planCoatWork(plan, ground);
  const { batches, notes: batchNotes } = planBatches(plan, coatWork);
  const { items: shopping, notes: shoppingNotes } = planShopping(plan, ground, coatWork, batches);
  const { schedule, day, notes: dayNotes } = planDay(plan, coatWork, batches, ground);
  const workNotes: WorkNote[] = [
    ...noteLog(plan, coatWork),
    ...noteRecipes(plan),
    ...batchNotes,
    ...shoppingNotes,
    ...dayNotes,
  ];
  return {
    coatWork,
    batches,
    shopping,
    schedule,
    day,
    cost: planCost(plan, shopping, coatWork, batches),
    workNotes,
  };
}
