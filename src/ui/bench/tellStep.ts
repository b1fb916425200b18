import type { BatchResult, PlanResult, TaskResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatLength, formatMass, type UnitSystem } from '../../core/units.ts';
import { sayMinutes } from '../../report/sayClock.ts';
import { capital } from '../panels/mix/capital.ts';
import { sayPiece } from '../sayPiece.ts';
import { sayRemoval } from '../sayRemoval.ts';

/** What somebody who stands at a step without a bucket needs: what to do, and the figures it takes. */
export interface StepTold {
  /** In the order in which it is done, a sentence each. */
  readonly todo: readonly string[];
  readonly figures: readonly { readonly name: string; readonly text: string }[];
}

type Ground = Pick<
  PlanResult,
  'batches' | 'casting' | 'coatWork' | 'partingLines' | 'pieces' | 'removal' | 'schedule' | 'shopping'
>;

/**
 * What to do at a step of the schedule that is no batch, with the plan's own figures. Words: own, after common practice; how
 * long, how much and which product are the plan's and the data sheet's.
 */
export function tellStep(task: TaskResult, result: Ground, plan: PlanDocument, units: UnitSystem): StepTold {
  const length = (mm: number): string => formatLength(mm, units);
  const mass = (g: number): string => formatMass(g, units);
  const { flange } = plan.parting;
  const { release, shim, fastener } = plan.supplies;
  const piece = result.pieces.find(({ id }) => id === task.piece);
  switch (task.kind) {
    case 'wall': {
      const open = openLines(task, result);
      return {
        todo: [
          'Set the shims along the parting line, on edge, square to the rubber.',
          `Each ${length(shim.overlapMm)} over the one before, no gap at the rubber and none at the board.`,
          ...(flange ? [`Mark ${length(flange.widthMm)} on them: the flange is laid up to there.`] : []),
        ],
        figures: [
          ...open.map(({ towards, lengthMm }) => ({
            name: `Line towards ${towards}`,
            text: length(lengthMm),
          })),
          { name: 'Strips', text: `${length(shim.stripLengthMm)} \u00d7 ${length(shim.stripWidthMm)}` },
          ...(flange
            ? [
                { name: 'Flange, wide', text: length(flange.widthMm) },
                { name: 'Flange, thick', text: length(flange.thicknessMm) },
              ]
            : []),
        ],
      };
    }
    case 'release': {
      const need = result.shopping.find(({ kind }) => kind === 'release')?.neededG ?? null;
      return {
        todo: [
          'Brush it thin and whole, into every corner, and wipe off what stands.',
          'Look along the light: what is missed sticks for good.',
        ],
        figures: [
          { name: 'Of', text: release.name },
          { name: 'Coats of it', text: String(release.coats) },
          ...(need === null ? [] : [{ name: 'For the whole mould', text: mass(need) }]),
        ],
      };
    }
    case 'dry':
      return {
        todo: [
          'Leave it alone. Touch it at the edge before anything is laid against it: nothing may come off on the finger.',
        ],
        figures: [{ name: 'Dries', text: sayMinutes(task.endMin - task.startMin) }],
      };
    case 'set-out': {
      const hasFibre = result.coatWork.some(
        ({ piece: id, kind }) => id === task.piece && kind === 'reinforced',
      );
      const own = result.batches.filter((batch) => batch.piece === task.piece && batch.loggedG === null);
      return {
        todo: [
          'Scale level, bucket and cups clean and dry, brushes and something to wash them in at hand.',
          'Weigh out nothing yet: each batch is weighed when its turn comes.',
          hasFibre ? 'Fibre cut and within reach, the way to the mould free.' : 'The way to the mould free.',
        ],
        figures: [
          { name: 'Batches of this piece', text: String(own.length) },
          ...itemsOf(own).map(([item, g]) => ({ name: capital(item), text: mass(g) })),
        ],
      };
    }
    case 'cure': {
      const work = result.coatWork.find(
        ({ piece: id, coat }) => id === task.piece && coat === task.coatNumber,
      );
      const next = result.coatWork.find(
        ({ piece: id, coat, thicknessMm }) =>
          id === task.piece && work !== undefined && coat > work.coat && thicknessMm > 0,
      );
      const latest = work?.times.latestOvercoatMin ?? null;
      return {
        todo: next
          ? [
              'Wait. The coat must be hard enough not to be disturbed and soft enough to bond with the next.',
              'Meanwhile wash the bucket and brushes, and set out for the next coat.',
            ]
          : [
              'Leave it on the mould, unmoved, until it carries its own load.',
              'Knock on it in several places: it must sound hard all over, and have cooled.',
            ],
        figures: [
          ...(work ? [{ name: work.name, text: length(work.thicknessMm) }] : []),
          { name: next ? 'Sets for' : 'Full cure', text: sayMinutes(task.endMin - task.startMin) },
          ...(next
            ? [{ name: `Then ${next.name}`, text: `${length(next.thicknessMm)}, ${mass(next.toLayG)}` }]
            : []),
          ...(next && latest !== null
            ? [{ name: 'Next coat at the latest after', text: sayMinutes(latest) }]
            : []),
        ],
      };
    }
    case 'shims':
      return {
        todo: [
          'Draw the shims out one by one, along the line, not across it.',
          'What is left in the rubber is picked out before the next piece is laid.',
        ],
        figures: piece ? [{ name: 'Line around this piece', text: length(piece.flange.lengthMm) }] : [],
      };
    case 'clean':
      return {
        todo: [
          'Scrape the face of the flange flat and take its sharp edge off; brush the dust away.',
          'Mark the seam, so that the next piece does not bury it.',
          'Then release goes on this face, before anything is laid against it.',
        ],
        figures: [
          ...(piece ? [{ name: 'Line around this piece', text: length(piece.flange.lengthMm) }] : []),
          ...(flange ? [{ name: 'Flange, wide', text: length(flange.widthMm) }] : []),
        ],
      };
    case 'trim':
      return {
        todo: [
          'Trim the outer edge of the flange down to the mark, and the foot level with the board.',
          'Round what a hand will hold.',
        ],
        figures: [
          ...(piece
            ? [
                { name: 'Weighs now', text: mass(piece.massG) },
                { name: 'Weighs dry', text: mass(piece.dryMassG) },
              ]
            : []),
          ...(flange ? [{ name: 'Flange, wide', text: length(flange.widthMm) }] : []),
        ],
      };
    case 'open':
      return {
        todo: [
          ...(result.removal ? [sayRemoval(result.removal, result.pieces)].filter(Boolean) : []),
          'Start the seam all round before any one place is opened.',
          'Slide each piece off along its pull, and set it down on its flange.',
        ],
        figures: result.pieces.map((one) => ({ name: sayPiece(one), text: mass(one.massG) })),
      };
    case 'assemble':
      return {
        todo: [
          'Lay the rubber into the shell and see that it lies home everywhere.',
          'Close the pieces, put all fasteners in loose, then tighten them in turn from the middle outwards.',
        ],
        figures: [
          ...(result.casting
            ? [
                { name: fastener.name, text: String(result.casting.fasteners) },
                ...(result.casting.fasteners > 1
                  ? [{ name: 'No farther apart than', text: length(fastener.mostSpacingMm) }]
                  : []),
              ]
            : []),
          { name: 'Shell', text: mass(result.pieces.reduce((sum, one) => sum + one.massG, 0)) },
        ],
      };
    case 'batch':
      return { todo: [], figures: [] };
  }
}

/** The lines of the piece whose other side is not built yet, by the schedule: there its wall stands. */
function openLines(
  { piece, startMin }: TaskResult,
  { partingLines, pieces, schedule }: Pick<Ground, 'partingLines' | 'pieces' | 'schedule'>,
): readonly { readonly towards: string; readonly lengthMm: number }[] {
  const isLater = (id: string): boolean =>
    schedule.some((task) => task.piece === id && task.kind === 'release' && task.startMin > startMin);
  const sums = new Map<string, number>();
  for (const { between, lengthMm } of partingLines) {
    if (piece === null || !between.includes(piece)) continue;
    const other = between[0] === piece ? between[1] : between[0];
    if (isLater(other)) sums.set(other, (sums.get(other) ?? 0) + lengthMm);
  }
  return [...sums].map(([id, lengthMm]) => {
    const found = pieces.find((one) => one.id === id);
    return { towards: found ? sayPiece(found) : id, lengthMm };
  });
}

/** What waits for the step, in the order of the clock. */
export function stepsAfter(task: TaskResult, schedule: readonly TaskResult[]): readonly TaskResult[] {
  return schedule.filter(({ after }) => after.includes(task.id)).toSorted((a, b) => a.startMin - b.startMin);
}

/** All that goes into the batches, by item, the heaviest first, g. */
function itemsOf(batches: readonly BatchResult[]): readonly (readonly [string, number])[] {
  const sums = new Map<string, number>();
  for (const { steps } of batches)
    for (const { item, massG } of steps) sums.set(item, (sums.get(item) ?? 0) + massG);
  return [...sums].toSorted((a, b) => b[1] - a[1]);
}
