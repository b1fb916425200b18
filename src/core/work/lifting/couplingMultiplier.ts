import type { LiftingPlan } from '../../plan/PlanDocument.ts';
import { HIGH_HANDS_CM } from './frequencyMultiplier.ts';

/** CM: NIOSH 94-110, Table 7, from memory (0.95 for a fair grip below 75 cm and 0.90 for a poor one occur in quoted examples). */
export function couplingMultiplier(grip: LiftingPlan['grip'], verticalCm: number): number {
  if (grip === 'good') return 1;
  if (grip === 'poor') return 0.9;
  return verticalCm < HIGH_HANDS_CM ? 0.95 : 1;
}
