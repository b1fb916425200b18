import { formatLength } from '../core/units.ts';
import { totalThicknessMm } from '../session/coatActions.ts';
import type { SessionState } from '../session/SessionStore.ts';
import type { Stage } from '../session/ViewPrefs.ts';

/** What each stage has come to, in a few words for the margin. */
export function stageStates(session: SessionState): Readonly<Record<Stage, string>> {
  const { plan, scan, answer, prefs } = session;
  const count = answer?.result.pieces.length ?? null;
  return {
    scan: scan
      ? answer
        ? formatLength(answer.result.rubber.heightMm, prefs.units)
        : scan.name
      : 'none open',
    parting: count === null ? '' : `${count} ${count === 1 ? 'piece' : 'pieces'}`,
    coats: `${plan.coats.length}, ${formatLength(totalThicknessMm(plan.coats), prefs.units)}`,
    mix: plan.material.components.map((c) => trimNumber(c.partsByMass)).join(' : '),
    sheet: answer?.isFinal ? 'ready' : '',
  };
}

function trimNumber(value: number): string {
  return String(Number(value.toFixed(2)));
}
