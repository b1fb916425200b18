import type { MarkedArea } from '../core/plan/PlanDocument.ts';

/** "Clear 3": the stem with the first number, from the count on, that no area has yet. */
export function freeAreaName(stem: string, areas: readonly MarkedArea[]): string {
  let n = areas.length + 1;
  while (areas.some((area) => area.name === `${stem} ${n}`)) n++;
  return `${stem} ${n}`;
}
