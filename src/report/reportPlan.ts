import type { PlanResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import {
  formatArea,
  formatBound,
  formatLength,
  formatMass,
  formatVolume,
  type UnitSystem,
} from '../core/units.ts';
import { areaCell, lengthCell, massCell, smallestOf, textCell, volumeCell } from './cells.ts';
import { describeScan } from './describeScan.ts';
import { describeThin } from './describeThin.ts';
import { describeUndercuts } from './describeUndercuts.ts';
import { describeWork } from './describeWork.ts';
import type { Report, ReportRow, ReportSection } from './Report.ts';
import { readSaid } from './readSaid.ts';
import { sayPull } from './sayPull.ts';

/** The answer for people: the scan, the rubber, pieces, coats, lines, what to weigh out, what is not answered, cautions. */
export function reportPlan(plan: PlanDocument, result: PlanResult, system: UnitSystem): Report {
  return {
    title: [plan.job.name, plan.job.shop].filter((part) => part !== '').join(', ') || plan.scan.file,
    sections: [
      describeScan(result.scan, system),
      describeRubber(plan, result, system),
      describePieces(result, system),
      describeCoats(result, system),
      describeLines(plan, result, system),
      ...describeUndercuts(plan, result, system),
      ...describeWork(plan, result, system),
      ...describeThin(plan, result, system),
      describeGaps(result, system),
      {
        title: 'Cautions',
        facts: [],
        tables: [],
        paragraphs: result.cautions.map((caution) => ({
          lead: caution.step,
          text: readSaid(caution, 'text', system),
        })),
      },
    ].filter((section) => section.facts.length + section.tables.length + section.paragraphs.length > 0),
  };
}

function describeRubber(plan: PlanDocument, { rubber }: PlanResult, system: UnitSystem): ReportSection {
  const facts = [
    { label: 'Surface above the board', text: formatArea(rubber.areaMm2, system) },
    { label: 'Height', text: formatLength(rubber.heightMm, system) },
    {
      label: 'Volume within',
      text:
        rubber.volumeMm3 === null
          ? 'not known: the scan does not close'
          : formatVolume(rubber.volumeMm3, system),
    },
  ];
  if (rubber.layer !== null) {
    const { layer } = rubber;
    const bound = formatBound(layer.volumeErrorMm3, layer.volumeMm3, 'volume', system);
    facts.push({
      label: `Rubber of ${formatLength(layer.thicknessMm, system)}`,
      text: `${formatVolume(layer.volumeMm3, system)} ${bound}, ${formatMass(layer.massG, system)}`,
    });
  }
  return {
    title: plan.scan.is === 'pattern' ? 'Rubber over the pattern' : 'Rubber',
    facts,
    tables: [],
    paragraphs: [],
  };
}

function describePieces({ pieces, shell }: PlanResult, system: UnitSystem): ReportSection {
  const likeMm2 = smallestOf(pieces.map((piece) => piece.areaMm2));
  const likeMm3 = smallestOf(pieces.map((piece) => piece.volumeMm3));
  const likeG = smallestOf(pieces.map((piece) => piece.massG));
  const rows: ReportRow[] = pieces.map((piece) => ({
    isTotal: false,
    cells: [
      textCell(piece.id),
      textCell(piece.name),
      textCell(sayPull(piece.pull)),
      areaCell(piece.areaMm2, likeMm2, system),
      volumeCell(piece.volumeMm3, piece.volumeErrorMm3, likeMm3, system),
      massCell(piece.massG, piece.massErrorG, likeG, system),
    ],
  }));
  rows.push({
    isTotal: true,
    cells: [
      textCell(''),
      textCell('Whole shell'),
      textCell(''),
      areaCell(
        pieces.reduce((sum, piece) => sum + piece.areaMm2, 0),
        likeMm2,
        system,
      ),
      volumeCell(shell.volumeMm3, shell.volumeErrorMm3, likeMm3, system),
      massCell(shell.massG, shell.massErrorG, likeG, system),
    ],
  });
  return {
    title: `Shell of ${formatLength(shell.thicknessMm, system)}, flanges included`,
    facts: [],
    tables: [
      {
        columns: [
          { title: 'Piece', align: 'left' },
          { title: 'Name', align: 'left' },
          { title: 'Pull', align: 'left' },
          { title: 'Area', align: 'right' },
          { title: 'Volume', align: 'right' },
          { title: 'Mass', align: 'right' },
        ],
        rows,
      },
    ],
    paragraphs: [],
  };
}

function describeCoats({ pieces }: PlanResult, system: UnitSystem): ReportSection {
  const rows: ReportRow[] = [];
  const coatCount = pieces[0]?.coats.length ?? 0;
  const parts = pieces.flatMap((piece) => [...piece.coats, piece.flange]);
  const likeMm3 = smallestOf(parts.map((part) => part.volumeMm3));
  const likeG = smallestOf(parts.map((part) => part.massG));
  for (let n = 0; n < coatCount; n++) {
    for (const piece of pieces) {
      const coat = piece.coats[n];
      rows.push({
        isTotal: false,
        cells: [
          textCell(coat.name),
          textCell(coat.kind),
          lengthCell(coat.toMm - coat.fromMm, system),
          textCell(piece.id),
          volumeCell(coat.volumeMm3, coat.volumeErrorMm3, likeMm3, system),
          massCell(coat.massG, coat.massErrorG, likeG, system),
        ],
      });
    }
  }
  for (const piece of pieces) {
    if (piece.flange.volumeMm3 === 0) continue;
    // The flange's mass has no bound of its own in the result; it stands to its mass as the volume's does to its volume.
    const boundG = (piece.flange.massG * piece.flange.volumeErrorMm3) / piece.flange.volumeMm3;
    rows.push({
      isTotal: false,
      cells: [
        textCell('Flange'),
        textCell('reinforced'),
        textCell(''),
        textCell(piece.id),
        volumeCell(piece.flange.volumeMm3, piece.flange.volumeErrorMm3, likeMm3, system),
        massCell(piece.flange.massG, boundG, likeG, system),
      ],
    });
  }
  return {
    title: 'Coats, from the rubber outward',
    facts: [],
    tables: [
      {
        columns: [
          { title: 'Coat', align: 'left' },
          { title: 'Kind', align: 'left' },
          { title: 'Thickness', align: 'right' },
          { title: 'Piece', align: 'left' },
          { title: 'Volume', align: 'right' },
          { title: 'Mass', align: 'right' },
        ],
        rows,
      },
    ],
    paragraphs: [],
  };
}

function describeLines(plan: PlanDocument, result: PlanResult, system: UnitSystem): ReportSection {
  const { flange } = plan.parting;
  // Every line lies between two pieces.
  const clearMm = result.pieces.reduce((sum, piece) => sum + piece.flange.clearMm, 0) / 2;
  return {
    title: 'Parting lines',
    facts: [
      ...result.partingLines.map((line) => ({
        label: `${line.between[0]} to ${line.between[1]}`,
        text: formatLength(line.lengthMm, system),
      })),
      ...(result.partingLines.length > 0
        ? [
            {
              label: 'Flange',
              text:
                flange === null
                  ? 'none'
                  : `${formatLength(flange.widthMm, system)} wide, ${formatLength(flange.thicknessMm, system)} to each side`,
            },
            ...(clearMm > 0
              ? [
                  {
                    label: 'Kept clear',
                    text: `${formatLength(clearMm, system)} of line: no shim, no flange and no fastener there`,
                  },
                ]
              : []),
          ]
        : []),
    ],
    tables: [],
    paragraphs: [],
  };
}

/** What bears on how far the figures may be trusted, and what this version has not worked out. */
function describeGaps(result: PlanResult, system: UnitSystem): ReportSection {
  const missing = [
    ...(result.pieces.some((piece) => piece.undercut === null) ? ['undercuts and filler'] : []),
    ...(result.pieces.some((piece) => piece.thin === null) ? ['thin spots and where to put the pin'] : []),
    ...(result.comparison === null ? ['other systems'] : []),
    ...(result.casting === null ? ['casting load and fasteners'] : []),
  ];
  return {
    title: 'How far to trust this',
    facts: [{ label: 'Field cells', text: formatLength(result.resolutionMm, system) }],
    tables: [],
    paragraphs: [
      {
        lead: '',
        text: 'The ± is a bound on the arithmetic for the scan as read and mended; how evenly the coats are laid is not in it.',
      },
      ...(result.preliminary
        ? [
            {
              lead: 'Preliminary',
              text: 'These are the quick figures of a coarse field; finer ones were still under way.',
            },
          ]
        : []),
      ...(missing.length > 0 ? [{ lead: 'Not worked out yet', text: `${missing.join(', ')}.` }] : []),
    ],
  };
}
