import type { PlanResult } from '../core/PlanResult.ts';
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
        ? `${formatLength(answer.result.rubber.heightMm, prefs.units)}${isUnitGuessed(answer.result) ? '?' : ''}`
        : scan.name
      : 'none open',
    parting: count === null ? '' : sayCount(count, 'piece', 'pieces'),
    coats: `${plan.coats.length}, ${formatLength(totalThicknessMm(plan.coats), prefs.units)}`,
    mix: answer ? sayCount(answer.result.batches.length, 'batch', 'batches') : plan.material.name,
    sheet: answer?.isFinal ? sayProgress(answer.result) : '',
  };
}

/** Whether the file named no unit and nobody has set one yet. */
const isUnitGuessed = ({ scan }: PlanResult): boolean =>
  scan.warnings.some(({ code }) => code === 'unit-guessed');

/** How far the work is: days as planned, batches on the wall once there is one. */
function sayProgress({ batches, day }: PlanResult): string {
  const done = batches.filter(({ loggedG }) => loggedG !== null).length;
  if (done === 0) return sayCount(day.days, 'day', 'days');
  return done === batches.length ? 'all done' : `${done}/${batches.length} done`;
}

function sayCount(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
