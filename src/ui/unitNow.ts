import type { LengthUnit } from '../core/plan/PlanDocument.ts';
import type { PlanAnswer } from '../jobs/protocol.ts';
import { LENGTH_UNITS } from '../session/planChoices.ts';

/** The unit that the answer took the file for, typed or guessed; null without an answer. */
export function unitNow(answer: PlanAnswer | null): LengthUnit | null {
  return LENGTH_UNITS.find((unit) => unit === answer?.result.scan.unit) ?? null;
}
