import type { HandlingResult } from '../core/PlanResult.ts';

/** Who or what carries a load, in words: the same on the page, on the sheet and in the report. */
export const CARRY_WORDS: Readonly<Record<HandlingResult['carry'], string>> = {
  one: 'one person',
  two: 'two people',
  hoist: 'a hoist',
};
