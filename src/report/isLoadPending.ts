import type { PlanResult } from '../core/PlanResult.ts';

/** True as long as the casting's load may still come: it comes before the thin spots, or with them. */
export function isLoadPending({ casting, pieces }: Pick<PlanResult, 'casting' | 'pieces'>): boolean {
  return casting === null && pieces.some(({ thin }) => thin === null);
}
