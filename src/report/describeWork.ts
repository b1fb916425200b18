import type {
  BatchResult,
  HandlingResult,
  PlanResult,
  ShoppingItem,
  TaskResult,
} from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import {
  formatForce,
  formatLength,
  formatMass,
  formatPressure,
  formatStress,
  formatVolume,
  type UnitSystem,
} from '../core/units.ts';
import { NOT_COVERED } from '../core/work/lifting/liftPieces.ts';
import { CARRY_WORDS } from './carryWords.ts';
import { textCell } from './cells.ts';
import { sayTrapped } from './describeUndercuts.ts';
import { leadOfNote } from './leadOfNote.ts';
import { namePiece } from './namePiece.ts';
import type { ReportColumn, ReportRow, ReportSection } from './Report.ts';
import { readSaid } from './readSaid.ts';
import { sayClock, sayDay, sayMinutes } from './sayClock.ts';
import { sayGrams } from './sayGrams.ts';
import { sayHeldDown } from './sayHolding.ts';
import { sayMoney } from './sayMoney.ts';
import { SCREENING_WORDS } from './screeningWords.ts';

/** What the hands do: what will not do as it stands, batches, shopping and cost, the day, other systems, the load, the lifts. */
export function describeWork(plan: PlanDocument, result: PlanResult, system: UnitSystem): ReportSection[] {
  return [
    describeNotes(result, system),
    describeBatches(result, system),
    describeShopping(result, system),
    describeDay(result, system),
    describeComparison(result, system),
    describeCasting(plan, result, system),
    describeLifting(result, system),
  ];
}

function describeNotes(result: PlanResult, system: UnitSystem): ReportSection {
  const { workNotes, pieces } = result;
  return {
    title: 'Look at these first',
    facts: [],
    tables: [],
    paragraphs: [
      ...sayTrapped(result, system),
      ...workNotes.map((note) => ({
        lead: leadOfNote(note, pieces),
        text: readSaid(note, 'text', system),
      })),
    ],
  };
}

function describeBatches({ batches, pieces }: PlanResult, system: UnitSystem): ReportSection {
  const row = (batch: BatchResult): ReportRow => ({
    isTotal: false,
    cells: [
      textCell(namePiece(pieces, batch.piece)),
      textCell(batch.coat),
      textCell(`${batch.number} of ${batch.of}${batch.loggedG === null ? '' : ', done'}`),
      textCell(batch.steps.map(({ item, massG }) => `${item} ${sayGrams(massG, system)}`).join(', ')),
      textCell(sayGrams(batch.loggedG ?? batch.mixedG, system)),
      textCell(formatVolume(batch.volumeMl * 1000, system)),
      textCell(sayMinutes(batch.workingTimeMin)),
    ],
  });
  return {
    title: 'Batches, in the order of the work',
    facts: [],
    tables:
      batches.length === 0
        ? []
        : [
            {
              columns: [
                left('Piece'),
                left('Coat'),
                left('Batch'),
                left('Weigh, in this order'),
                right('Mixed'),
                right('Bucket'),
                right('Sets in'),
              ],
              rows: batches.map(row),
            },
          ],
    paragraphs: [],
  };
}

function describeShopping({ shopping, cost }: PlanResult, system: UnitSystem): ReportSection {
  const row = (item: ShoppingItem): ReportRow => ({
    isTotal: false,
    cells: [
      textCell(item.item),
      textCell(sayNeed(item, system)),
      textCell(item.inStockG > 0 ? formatMass(item.inStockG, system) : ''),
      textCell(sayPacks(item, system)),
      textCell(
        item.leftG === null ? '' : item.neededG === null ? `${item.leftG}` : formatMass(item.leftG, system),
      ),
      textCell(item.cost === null ? '' : sayMoney(item.cost, cost.currency)),
      textCell(readSaid(item, 'say', system)),
    ],
  });
  const shares = Object.entries(cost.byPiece).map(
    ([piece, share]) => `${piece} ${sayMoney(share, cost.currency)}`,
  );
  const coats = Object.entries(cost.byCoat).map(
    ([coat, share]) => `${coat} ${sayMoney(share, cost.currency)}`,
  );
  return {
    title: 'To buy',
    facts: [
      ...(cost.total === null ? [] : [{ label: 'Cost', text: sayMoney(cost.total, cost.currency) }]),
      ...(shares.length > 0 ? [{ label: 'Used, by piece', text: shares.join(', ') }] : []),
      ...(coats.length > 0 ? [{ label: 'Used, by coat', text: coats.join(', ') }] : []),
      ...(cost.unpriced.length > 0 ? [{ label: 'Without a price', text: cost.unpriced.join(', ') }] : []),
    ],
    tables: [
      {
        columns: [
          left('Item'),
          right('Needed'),
          right('In stock'),
          left('Packs'),
          right('Left over'),
          right('Cost'),
          left(''),
        ],
        rows: shopping.map(row),
      },
    ],
    paragraphs: [],
  };
}

function sayNeed(item: ShoppingItem, system: UnitSystem): string {
  return item.neededG === null ? `${item.neededCount ?? ''}` : formatMass(item.neededG, system);
}

function sayPacks({ packs, packG, neededG }: ShoppingItem, system: UnitSystem): string {
  if (packs === null || packG === null) return 'by need';
  return `${packs} of ${neededG === null ? packG : formatMass(packG, system)}`;
}

function describeDay({ schedule, day, pieces }: PlanResult, system: UnitSystem): ReportSection {
  const row = (task: TaskResult): ReportRow => ({
    isTotal: false,
    cells: [
      textCell(sayDay(task.startMin, day.startDate, system)),
      textCell(`${sayClock(task.startMin, system)} to ${sayClock(task.endMin, system)}`),
      textCell(pieces.find((piece) => piece.id === task.piece)?.name ?? ''),
      textCell(task.what),
      textCell(sayMinutes(task.endMin - task.startMin)),
      textCell(task.who === null ? 'waits' : day.hands > 1 ? `hands ${task.who}` : 'hands on'),
    ],
  });
  return {
    title: 'The day',
    facts: [
      {
        label: 'Over',
        text: `${sayDay(day.endMin, day.startDate, system)}, ${sayClock(day.endMin, system)}; ${day.days} ${day.days === 1 ? 'day' : 'days'}`,
      },
      { label: 'Hands on', text: `${sayMinutes(day.attendedMin)}, ${day.hands} at work` },
    ],
    tables: [
      {
        columns: [left('Day'), left('Clock'), left('Piece'), left('What'), right('Takes'), left('Who')],
        rows: schedule.map(row),
      },
    ],
    paragraphs: [],
  };
}

function describeComparison({ comparison, cost }: PlanResult, system: UnitSystem): ReportSection {
  const rows = (comparison ?? []).map((one) => ({
    isTotal: one.isChosen,
    cells: [
      textCell(`${one.name}${one.isChosen ? ' (chosen)' : ''}`),
      textCell(formatLength(one.thicknessMm, system)),
      textCell(formatMass(one.massG, system)),
      textCell(formatMass(one.dryMassG, system)),
      textCell(formatMass(one.heaviestG, system)),
      textCell(one.cost === null ? 'no price' : sayMoney(one.cost, cost.currency)),
      textCell(sayMinutes(one.elapsedMin)),
      textCell(sayMinutes(one.attendedMin)),
      textCell(`${one.batches}`),
    ],
  }));
  return {
    title: 'The same shell in other systems',
    facts: [],
    tables:
      rows.length === 0
        ? []
        : [
            {
              columns: [
                left('System'),
                right('Thick'),
                right('Laid up'),
                right('Dry'),
                right('Heaviest piece'),
                right('Cost'),
                right('From first to last'),
                right('Hands on'),
                right('Batches'),
              ],
              rows,
            },
          ],
    paragraphs: (comparison ?? []).flatMap(({ name, notes }) =>
      notes.map((note) => ({ lead: name, text: readSaid(note, 'text', system) })),
    ),
  };
}

function describeCasting(
  plan: PlanDocument,
  { casting, pieces }: PlanResult,
  system: UnitSystem,
): ReportSection {
  if (casting === null) return { title: 'Filled', facts: [], tables: [], paragraphs: [] };
  const { name, workingLoadN } = plan.supplies.fastener;
  return {
    title: `Filled with ${casting.densityGPerCm3} g/cm³, ${casting.attitude === 'foot-up' ? 'foot upward' : 'as built'}`,
    facts: [
      { label: 'Head', text: formatLength(casting.headMm, system) },
      { label: 'Pressure at most', text: formatPressure(casting.maxPressurePa, system) },
      ...casting.pieces.map((piece) => ({
        label: `Opens ${namePiece(pieces, piece.piece)}`,
        text: `${formatForce(piece.openingN, system)} along its pull`,
      })),
      {
        label: 'Fasteners',
        text: `${casting.fasteners} of ${name}, ${formatForce(workingLoadN, system)} each at most, closest ${formatLength(casting.fastenerSpacingMm, system)}`,
      },
      {
        label: 'Off the board',
        text:
          casting.upliftN > 0
            ? `wants to lift by ${formatForce(casting.upliftN, system)}: hold it down`
            : sayHeldDown(casting, system),
      },
      ...(casting.seam === null
        ? []
        : [
            {
              label: 'Leaks first',
              text: `where ${formatPressure(casting.seam.pressurePa, system)} stand on the lowest seam`,
            },
          ]),
      ...(casting.castG === null ? [] : [{ label: 'Cast', text: formatMass(casting.castG, system) }]),
      ...(casting.filledMouldG === null
        ? []
        : [{ label: 'Filled mould', text: formatMass(casting.filledMouldG, system) }]),
    ],
    tables: [
      {
        columns: [
          left('Piece'),
          left('Comparison'),
          right('Stress'),
          right('Bends'),
          right('Strength over it'),
        ],
        rows: casting.screening.map((one) => ({
          isTotal: false,
          cells: [
            textCell(namePiece(pieces, one.piece)),
            textCell(SCREENING_WORDS[one.formula]),
            textCell(formatStress(one.stressMPa, system)),
            textCell(one.deflectionMm === null ? '' : formatLength(one.deflectionMm, system)),
            textCell(one.reserve === null ? '' : `${one.reserve.toFixed(1)}`),
          ],
        })),
      },
    ],
    paragraphs: [
      ...casting.screening.map((one) => ({
        lead: `${namePiece(pieces, one.piece)}, ${SCREENING_WORDS[one.formula]}`,
        text: `${readSaid(one, 'from', system)}.`,
      })),
      ...(system === 'us' ? casting.usSays : casting.says).map((text) => ({ lead: '', text })),
    ],
  };
}

function describeLifting({ handling }: PlanResult, system: UnitSystem): ReportSection {
  const row = (lift: HandlingResult): ReportRow => ({
    isTotal: false,
    cells: [
      textCell(lift.what),
      textCell(formatMass(lift.massKg * 1000, system)),
      textCell(lift.limitKg > 0 ? formatMass(lift.limitKg * 1000, system) : 'out of reach'),
      textCell(lift.liftingIndex === null ? '' : lift.liftingIndex.toFixed(2)),
      textCell(CARRY_WORDS[lift.carry]),
    ],
  });
  return {
    title: 'In the hand',
    facts: [],
    tables: [
      {
        columns: [left('What'), right('Mass'), right('Limit for one'), right('Index'), left('Lift')],
        rows: handling.map(row),
      },
    ],
    paragraphs: [{ lead: '', text: NOT_COVERED }],
  };
}

const left = (title: string): ReportColumn => ({ title, align: 'left' });
const right = (title: string): ReportColumn => ({ title, align: 'right' });
