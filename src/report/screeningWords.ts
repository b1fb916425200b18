import type { ScreeningResult } from '../core/PlanResult.ts';

/** What a piece is compared with, in words. */
export const SCREENING_WORDS: Readonly<Record<ScreeningResult['formula'], string>> = {
  'flat-supported': 'flat panel, edges supported',
  'flat-clamped': 'flat panel, edges clamped',
  membrane: 'curved, as a membrane',
  flange: 'flange, as a cantilever',
};
