import type { DayPlan, DayStep } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Minutes in a day; working hours lie within one. */
const DAY_MIN = 24 * 60;

/** No step that a material does not set takes longer, minutes: a slip of the keyboard is not taken for a week. Own choice. */
const LONGEST_STEP_MIN = 7 * DAY_MIN;

/** Actions on when the work is done. Each returns the action; one whose value cannot be leaves the plan as it is. */
const changeDay =
  (change: (day: DayPlan) => Partial<DayPlan>): PlanEdit =>
  (plan) => ({ ...plan, day: { ...plan.day, ...change(plan.day) } });

/** First day, "2026-12-01"; null: not fixed. A date that the calendar does not have is left unheard. */
export const setStartDate = (startDate: string | null): PlanEdit =>
  startDate === null || isDate(startDate) ? changeDay(() => ({ startDate })) : (plan) => plan;

/** Working hours, minutes after midnight; the end must come after the beginning, on the same day. */
export const setWorkingHours = (fromMin: number, toMin: number): PlanEdit =>
  fromMin >= 0 && toMin > fromMin && toMin <= DAY_MIN
    ? changeDay(() => ({ fromMin, toMin }))
    : (plan) => plan;

export const setWeekends = (weekends: boolean): PlanEdit => changeDay(() => ({ weekends }));

/** How long a step takes that no material sets, minutes; 0: it is not counted. */
export const setStepMinutes = (step: DayStep, minutes: number): PlanEdit =>
  minutes >= 0 && minutes <= LONGEST_STEP_MIN
    ? changeDay((day) => ({ stepMin: { ...day.stepMin, [step]: minutes } }))
    : (plan) => plan;

/**
 * Builds a piece earlier (-1) or later (+1). `pieces` are the ids of all pieces as the answer lists them: they fill up an
 * order that does not name them all, and drop from it what is no piece any more.
 */
export const movePieceInOrder = (pieces: readonly string[], id: string, by: -1 | 1): PlanEdit =>
  changeDay((day) => {
    const order = orderOfPieces(day, pieces);
    const at = order.indexOf(id);
    const to = at + by;
    if (at < 0 || to < 0 || to >= order.length) return {};
    const next = [...order];
    [next[at], next[to]] = [next[to], next[at]];
    return { order: next };
  });

/** Ids of the pieces in the order in which they are built: those that the plan orders first, then the others as listed. */
export function orderOfPieces(day: DayPlan, pieces: readonly string[]): readonly string[] {
  const ordered = day.order.filter((id, i) => pieces.includes(id) && day.order.indexOf(id) === i);
  return [...ordered, ...pieces.filter((id) => !ordered.includes(id))];
}

/** True for "2026-02-28", not for "2026-02-30" or anything else. */
function isDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}
