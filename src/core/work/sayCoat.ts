import type { CoatWork } from '../PlanResult.ts';

/** A coat for people: "Front, coat 3 (Reinforced)". */
export function sayCoat(work: Pick<CoatWork, 'pieceName' | 'coat' | 'name'>): string {
  return `${work.pieceName}, coat ${work.coat + 1} (${work.name})`;
}
