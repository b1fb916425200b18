import type { BatchResult, CoatWork, PlanResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatLength, formatMass, type UnitSystem } from '../../core/units.ts';
import { readSaid } from '../readSaid.ts';
import { sayClock, sayDay, sayMinutes } from '../sayClock.ts';
import { sayFlangeShare } from '../sayFlangeShare.ts';
import type { CautionPile } from './CautionPile.ts';
import type { SheetCell, SheetLine, SheetPart, SheetSection } from './Sheet.ts';
import { cell, column, line, row, table } from './sheetParts.ts';

/** What to weigh out, batch by batch, with room for the true weight: a table for each coat of each piece. */
export function batchesSection(
  plan: PlanDocument,
  result: PlanResult,
  system: UnitSystem,
  cautions: CautionPile,
): SheetSection {
  const parts: SheetPart[] = [];
  const first = cautions.take('Rubber', 'Mixing', 'Resin');
  if (first.length > 0) parts.push({ kind: 'cautions', lines: first });
  parts.push({
    kind: 'lines',
    lines: [
      line('Weigh in grams. Tick a batch when it is on the wall, and write down what was really mixed.'),
    ],
  });
  for (const work of result.coatWork) {
    const batches = result.batches.filter(
      (batch) => batch.piece === work.piece && batch.coatNumber === work.coat,
    );
    if (work.kind === 'reinforced') {
      const beside = cautions.take('Reinforced coat');
      if (beside.length > 0) parts.push({ kind: 'cautions', lines: beside });
    }
    parts.push(coatTable(plan, result, work, batches, system));
  }
  return { id: 'batches', title: 'Batches, in the order of the work', parts };
}

function coatTable(
  plan: PlanDocument,
  result: PlanResult,
  work: CoatWork,
  batches: readonly BatchResult[],
  system: UnitSystem,
): SheetPart {
  const caption = `${work.pieceName}, coat ${work.coat + 1}: ${work.name}`;
  const piece = result.pieces.find(({ id }) => id === work.piece);
  const flange = sayFlangeShare(plan, piece, work.coat, system);
  const intro = sayCoatTimes(work, batches, flange, system);
  if (batches.length === 0) {
    const why = work.isDone
      ? `Done: ${formatMass(work.laidG, system)} on the wall.`
      : 'No batch can be planned for this coat; the notes on the first page say why.';
    return table([], [], { caption, intro: [...intro, line(why)], isWhole: true });
  }
  const items = itemsOf(batches);
  const hasScales = plan.bench.scales.length > 1;
  return table(
    [
      column('', 'tick'),
      column('Batch'),
      ...items.map((item) => column(`${item}, g`, 'weight')),
      column('Mixed, g', 'weight'),
      column('True weight, g', 'write'),
    ],
    batches.map((batch) => {
      const start = result.schedule.find(
        (task) =>
          task.kind === 'batch' &&
          task.piece === batch.piece &&
          task.coatNumber === batch.coatNumber &&
          task.batch === batch.number,
      );
      const when =
        start === undefined
          ? ''
          : `${sayDay(start.startMin, result.day.startDate, system)}, ${sayClock(start.startMin, system)}`;
      return row(
        [
          batch.loggedG === null ? '' : 'done',
          cell(`${batch.number} of ${batch.of}`, when),
          ...items.map((item): SheetCell => {
            const step = batch.steps.find((one) => one.item === item);
            if (step === undefined) return cell('\u2013');
            const ounces = system === 'us' ? formatMass(step.massG, system) : '';
            const scale = hasScales ? step.scale : '';
            return cell(sayFigure(step.massG), [ounces, scale].filter((word) => word !== '').join(', '));
          }),
          cell(sayFigure(batch.mixedG), system === 'us' ? formatMass(batch.mixedG, system) : ''),
          batch.loggedG === null ? '' : sayFigure(batch.loggedG),
        ],
        batch.loggedG === null ? 'plain' : 'quiet',
      );
    }),
    { caption, intro: [...intro, ...sayOrder(batches, system)], isWhole: batches.length <= MOST_WHOLE },
  );
}

/** A coat of more batches than this may run over the end of a page. */
const MOST_WHOLE = 8;

/** What goes in, in the order in which it does, over all batches of the coat. */
function itemsOf(batches: readonly BatchResult[]): string[] {
  const items: string[] = [];
  for (const { steps } of batches) {
    steps.forEach(({ item }, n) => {
      if (!items.includes(item)) items.splice(Math.min(n, items.length), 0, item);
    });
  }
  return items;
}

function sayCoatTimes(
  work: CoatWork,
  batches: readonly BatchResult[],
  flange: string,
  system: UnitSystem,
): SheetLine[] {
  const { times } = work;
  const span = (values: readonly number[]): string => {
    const [least, most] = [Math.min(...values), Math.max(...values)];
    return Math.round(least) === Math.round(most)
      ? sayMinutes(most)
      : `${sayMinutes(least)} to ${sayMinutes(most)}`;
  };
  const open = batches.filter((batch) => batch.loggedG === null);
  const laying =
    open.length === 0
      ? []
      : [
          `sets in ${span(open.map((batch) => batch.workingTimeMin))}: ${span(open.map((batch) => batch.mixMin))} to mix, ${span(open.map((batch) => batch.layMin))} to lay`,
        ];
  const laid = work.laidG > 0 && !work.isDone ? [`${formatMass(work.laidG, system)} on the wall so far`] : [];
  const late =
    times.latestOvercoatMin === null ? '' : ` and no later than ${sayMinutes(times.latestOvercoatMin)}`;
  const text = [
    `${formatLength(work.thicknessMm, system)} thick`,
    ...(flange === '' ? [] : [flange]),
    ...laid,
    ...laying,
    `next coat after ${sayMinutes(times.partialCureMin)}${late}`,
    `full cure ${sayMinutes(times.fullCureMin)}`,
  ].join('; ');
  return [line(`${text}.`)];
}

/** The order only where something is to be said of it beyond the table's columns. */
function sayOrder(batches: readonly BatchResult[], system: UnitSystem): SheetLine[] {
  const steps = batches.find((batch) => batch.steps.length > 0)?.steps ?? [];
  if (steps.length < 2) return [];
  const words = steps.map((step) => {
    const say = readSaid(step, 'say', system);
    return say === '' ? step.item : `${step.item} (${say})`;
  });
  return [line(`${words.join(', then ')}.`, 'In this order')];
}

/** Grams as the scale shows them, without the unit: it stands in the column's head. */
function sayFigure(massG: number): string {
  return String(Number(massG.toFixed(2)));
}
