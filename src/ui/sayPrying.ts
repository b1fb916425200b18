import type { PryingResult } from '../core/PlanResult.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';

/** Whether a small turn frees a piece, in a sentence. */
export function sayPrying(name: string, prying: PryingResult, system: UnitSystem): string {
  const about = prying.axis === null ? '' : ` about ${prying.axis.name}`;
  const worst = formatLength(prying.worstMm, system);
  switch (prying.frees) {
    case 'pull':
      return `${name} comes straight off along its pull.`;
    case 'turn':
      return `${name}: no straight pull frees it; tipped${about} it comes off, meeting rubber by ${worst} at most.`;
    case 'slide':
      return `${name} only slides along itself${about}; nothing lifts it clear at once.`;
    case 'locked':
      return `${name}: neither a straight pull nor a small turn frees it. Tipped by ${roundDeg(prying.turnDeg)}${about} it still meets rubber by ${worst}.`;
  }
}

const roundDeg = (deg: number): string => `${Math.round(deg * 10) / 10}\u00b0`;
