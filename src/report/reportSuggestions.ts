import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { formatArea, formatLength, formatMass, formatVolume, type UnitSystem } from '../core/units.ts';
import { lengthCell, smallestOf, textCell } from './cells.ts';
import type { Report, ReportCell, ReportRow, ReportSection } from './Report.ts';
import { sayPull } from './sayPull.ts';

/** Suggestions for people, best first: one table of all, then each with why it stands there and what its pieces are. */
export function reportSuggestions(
  plan: PlanDocument,
  suggestions: readonly Suggestion[],
  system: UnitSystem,
): Report {
  return {
    title: `Where ${plan.job.name || plan.scan.file} could part`,
    sections: [
      compareAll(plan, suggestions, system),
      ...suggestions.map((suggestion) => describeOne(suggestion, system)),
    ],
  };
}

function compareAll(
  plan: PlanDocument,
  suggestions: readonly Suggestion[],
  system: UnitSystem,
): ReportSection {
  const likeMm2 = tellingOf(suggestions.map((each) => each.undercutMm2));
  const likeMm3 = tellingOf(suggestions.map((each) => each.fillerMm3));
  const rows = suggestions.map(
    (each): ReportRow => ({
      isTotal: false,
      cells: [
        textCell(String(each.rank)),
        textCell(String(each.pieces.length)),
        lengthCell(each.maxDepthMm, system),
        areaCell(each.undercutMm2, likeMm2, system),
        volumeCell(each.fillerMm3, likeMm3, system),
        lengthCell(each.lineMm, system),
        lengthCell(each.longestFlangeMm, system),
      ],
    }),
  );
  return {
    title: 'Best first',
    facts: [
      {
        label: 'The rubber yields',
        text: `${formatLength(plan.parting.rubberGiveMm, system)} (your own feel)`,
      },
    ],
    tables: [
      {
        columns: [
          { title: 'Rank', align: 'right' },
          { title: 'Pieces', align: 'right' },
          { title: 'Deepest lock', align: 'right' },
          { title: 'Undercut', align: 'right' },
          { title: 'Filler', align: 'right' },
          { title: 'Line', align: 'right' },
          { title: 'Longest run', align: 'right' },
        ],
        rows,
      },
    ],
    paragraphs: [
      {
        lead: '',
        text: 'Found and measured on a simplified surface, masses by a formula good to some percent: good for choosing. `scute plan` on the one you take gives the figures to work by.',
      },
    ],
  };
}

function describeOne(suggestion: Suggestion, system: UnitSystem): ReportSection {
  const { pieces } = suggestion;
  const likeMm2 = smallestOf(pieces.map((piece) => piece.areaMm2));
  const likeUndercutMm2 = tellingOf(pieces.map((piece) => piece.undercut.areaMm2));
  const likeMm3 = tellingOf(pieces.map((piece) => piece.undercut.fillerMm3));
  const likeG = smallestOf(pieces.map((piece) => piece.massG));
  const rows = pieces.map(
    (piece): ReportRow => ({
      isTotal: false,
      cells: [
        textCell(piece.id),
        textCell(sayPull(piece.pull)),
        areaCell(piece.areaMm2, likeMm2, system),
        textCell(formatMass(piece.massG, system, likeG)),
        lengthCell(piece.undercut.maxDepthMm, system),
        areaCell(piece.undercut.areaMm2, likeUndercutMm2, system),
        volumeCell(piece.undercut.fillerMm3, likeMm3, system),
      ],
    }),
  );
  const lines = suggestion.partingLines.map(
    (line) => `${line.between.join(' and ')} ${formatLength(line.lengthMm, system)}`,
  );
  const totalG = pieces.reduce((sum, piece) => sum + piece.massG, 0);
  return {
    title: `${suggestion.rank}. ${pieces.length === 1 ? 'One piece' : `${pieces.length} pieces`}`,
    facts: [
      { label: 'Shell with flanges, about', text: formatMass(totalG, system) },
      ...(lines.length > 0 ? [{ label: 'Lines between', text: lines.join(', ') }] : []),
      ...(pieces.length > 2
        ? [{ label: 'Order of removal', text: suggestion.removal.order.join(', ') }]
        : []),
    ],
    tables: [
      {
        columns: [
          { title: 'Piece', align: 'left' },
          { title: 'Pull', align: 'left' },
          { title: 'Area', align: 'right' },
          { title: 'Mass', align: 'right' },
          { title: 'Deepest lock', align: 'right' },
          { title: 'Undercut', align: 'right' },
          { title: 'Filler', align: 'right' },
        ],
        rows,
      },
    ],
    paragraphs: [{ lead: '', text: suggestion.why }],
  };
}

/** What a column's unit is chosen for: its smallest amount, but none that is next to nothing beside the largest. */
function tellingOf(values: readonly number[]): number {
  return smallestOf(values.filter((value) => value > Math.max(...values) / 100));
}

function areaCell(valueMm2: number, likeMm2: number, system: UnitSystem): ReportCell {
  return textCell(formatArea(valueMm2, system, likeMm2));
}

function volumeCell(valueMm3: number, likeMm3: number, system: UnitSystem): ReportCell {
  return textCell(formatVolume(valueMm3, system, likeMm3));
}
