import type { CoatWork, WorkNote } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatLength } from '../../units.ts';
import { DONE_SLACK } from './planCoatWork.ts';

/** A coat that went on thinner than this share of what was due, though a later one was begun, may lack a tick. Own choice. */
const GAP_SHARE = 0.9;

/**
 * What the log leaves to be told: coats that have nothing left to lay, a finished piece that came out thinner than planned,
 * coats passed over without a tick, and entries of pieces or coats that the plan has no longer.
 */
export function noteLog(plan: PlanDocument, work: readonly CoatWork[]): WorkNote[] {
  const pieces = [...new Set(work.map((coat) => coat.piece))];
  return [
    ...pieces.flatMap((piece) =>
      notePiece(
        plan,
        work.filter((coat) => coat.piece === piece),
      ),
    ),
    ...noteStrays(plan, work),
    ...noteClosedStrays(plan, work),
  ];
}

function notePiece(plan: PlanDocument, coats: readonly CoatWork[]): WorkNote[] {
  const [{ piece, pieceName }] = coats;
  const logged = plan.log.batches.filter((batch) => batch.piece === piece && batch.coat < plan.coats.length);
  if (logged.length === 0) return [];
  const notes: WorkNote[] = [];
  let outsideMm = 0;
  let onMm = 0;
  for (const coat of coats) {
    outsideMm += plan.coats[coat.coat].thicknessMm;
    const dueMm = Math.max(0, outsideMm - onMm);
    onMm += coat.thicknessMm;
    const count = logged.filter((batch) => batch.coat === coat.coat).length;
    const isClosed = plan.log.closed.some((one) => one.piece === piece && one.coat === coat.coat);
    const isPassed = !isClosed && logged.some((batch) => batch.coat > coat.coat);
    if (count === 0 && dueMm === 0) {
      notes.push({
        code: 'nothing-left',
        piece,
        coat: coat.coat,
        text: `${coat.name} on ${pieceName} has nothing left to lay: the coats below it reach its outside already. Close it, or make the shell thicker.`,
      });
    } else if (isPassed && count === 0) {
      notes.push({
        code: 'log-gap',
        piece,
        coat: coat.coat,
        text: `${coat.name} on ${pieceName} has no batch in the log though a later coat was begun. It is taken to be on as planned; tick its batches if they were weighed.`,
      });
    } else if (isPassed && coat.laidMm < GAP_SHARE * dueMm) {
      notes.push({
        code: 'log-gap',
        piece,
        coat: coat.coat,
        ...sayBoth(
          'text',
          (system) =>
            `${coat.name} on ${pieceName} is ${formatLength(coat.laidMm, system)} by the log, ${formatLength(dueMm, system)} were due, and a later coat was begun. The later coats make it up; if a batch was not ticked, tick it.`,
        ),
      });
    }
  }
  if (coats.every((coat) => coat.isDone) && onMm < outsideMm * (1 - DONE_SLACK)) {
    notes.push({
      code: 'shell-short',
      piece,
      coat: null,
      ...sayBoth(
        'text',
        (system) =>
          `All coats are on ${pieceName}. By the log it is ${formatLength(onMm, system)} thick on average, planned were ${formatLength(outsideMm, system)}: add a coat, or measure with the pin before you open.`,
      ),
    });
  }
  return notes;
}

function noteStrays(plan: PlanDocument, work: readonly CoatWork[]): WorkNote[] {
  const isKnown = (piece: string, coat: number): boolean =>
    work.some((one) => one.piece === piece && one.coat === coat);
  const strays = plan.log.batches.filter((batch) => !isKnown(batch.piece, batch.coat));
  if (strays.length === 0) return [];
  const first = strays[0];
  return [
    {
      code: 'log-stray',
      piece: null,
      coat: null,
      text: `The log holds ${strays.length} ${strays.length === 1 ? 'batch' : 'batches'} of a piece or a coat that is not in the plan (the first: piece ${first.piece}, coat ${first.coat + 1}). ${strays.length === 1 ? 'It counts' : 'They count'} for nothing; undo the change to the pieces or coats, or clear the log.`,
    },
  ];
}

function noteClosedStrays(plan: PlanDocument, work: readonly CoatWork[]): WorkNote[] {
  return plan.log.closed
    .filter(({ piece, coat }) => !work.some((one) => one.piece === piece && one.coat === coat))
    .slice(0, 1)
    .map(({ piece, coat }) => ({
      code: 'log-stray',
      piece: null,
      coat: null,
      text: `The log calls coat ${coat + 1} of piece ${piece} finished, which is not in the plan. It counts for nothing; undo the change to the pieces or coats, or clear the log.`,
    }));
}
