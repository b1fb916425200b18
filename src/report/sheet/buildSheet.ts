import type { PlanResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../core/units.ts';
import { sayTrapped } from '../describeUndercuts.ts';
import { leadOfNote } from '../leadOfNote.ts';
import { readSaid } from '../readSaid.ts';
import { basisSection } from './basisSection.ts';
import { batchesSection } from './batchesSection.ts';
import { buySection } from './buySection.ts';
import { CautionPile } from './CautionPile.ts';
import { castingSection } from './castingSection.ts';
import { coatsSection } from './coatsSection.ts';
import { daySection } from './daySection.ts';
import { liftingSection } from './liftingSection.ts';
import { piecesSection } from './piecesSection.ts';
import { probesSection } from './probesSection.ts';
import type { Sheet, SheetFigure, SheetLine, SheetSection } from './Sheet.ts';
import { titleCells } from './titleCells.ts';

/**
 * The shop sheet of a plan and its answer, as plain data. `figures`: the mould from its sides (`figureOf`), or null when they are
 * not drawn. `staleness`: what the page knows of the answer's age, '' for an answer to this very plan. Every caution of the result
 * is on it once, beside the step it speaks of or at the end. Pure, a few milliseconds.
 */
export function buildSheet(
  plan: PlanDocument,
  result: PlanResult,
  figures: readonly SheetFigure[] | null,
  system: UnitSystem,
  staleness = '',
): Sheet {
  const cautions = new CautionPile(result.cautions, system);
  // The last words of the sheet; they hold for all of it.
  const closing = cautions.take('All steps').map(({ text }) => text);
  const batches = batchesSection(plan, result, system, cautions);
  const day = daySection(result, system, cautions);
  const casting = castingSection(plan, result, system, cautions);
  const lifting = liftingSection(result, system, cautions);
  const sections: SheetSection[] = [
    piecesSection(result, system),
    buySection(result, system),
    coatsSection(plan, result, system),
    batches,
    day,
    ...(result.probes.length > 0 ? [probesSection(plan, result, figures, system)] : []),
    ...(result.handling.length > 0 ? [lifting] : []),
    casting,
    basisSection(plan, result, system),
  ];
  const left = [...(result.handling.length > 0 ? [] : cautionsOf(lifting)), ...cautions.takeRest()];
  if (left.length > 0) {
    sections.push({ id: 'take-care', title: 'Take care', parts: [{ kind: 'cautions', lines: left }] });
  }
  const scan = `Scan ${plan.scan.file}`;
  return {
    job: plan.job.name || plan.scan.file,
    shop: [plan.job.shop, scan].filter((word) => word !== '').join(' \u00b7 '),
    standing: [staleness, result.preliminary ? ROUGH : ''].filter((word) => word !== '').join(' '),
    warnings: warningsOf(result, system),
    figures,
    pieces: result.pieces.map((piece) => piece.name),
    cells: titleCells(plan, result, system),
    sections,
    closing,
  };
}

const ROUGH = 'Rough figures; finer ones were under way when this was made.';

function warningsOf(result: PlanResult, system: UnitSystem): SheetLine[] {
  const { workNotes, pieces, scan } = result;
  return [
    ...sayTrapped(result, system),
    ...workNotes.map(
      (note): SheetLine => ({ lead: leadOfNote(note, pieces), text: readSaid(note, 'text', system) }),
    ),
    ...scan.warnings.map((note): SheetLine => ({ lead: 'Scan', text: readSaid(note, 'text', system) })),
  ];
}

function cautionsOf(section: SheetSection): SheetLine[] {
  return section.parts.flatMap((part) => (part.kind === 'cautions' ? part.lines : []));
}
