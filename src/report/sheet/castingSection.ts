import type { CastingResult, PlanResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import {
  formatForce,
  formatLength,
  formatMass,
  formatPressure,
  formatStress,
  type UnitSystem,
} from '../../core/units.ts';
import { isLoadPending } from '../isLoadPending.ts';
import { namePiece } from '../namePiece.ts';
import { readSaid } from '../readSaid.ts';
import { sayHeldDown } from '../sayHolding.ts';
import { SCREENING_WORDS } from '../screeningWords.ts';
import type { CautionPile } from './CautionPile.ts';
import type { SheetLine, SheetPart, SheetSection } from './Sheet.ts';
import { cell, column, line, row, table } from './sheetParts.ts';

/** The load of the fill, the fasteners along the flange, and the comparisons of the thickness. */
export function castingSection(
  plan: PlanDocument,
  result: PlanResult,
  system: UnitSystem,
  cautions: CautionPile,
): SheetSection {
  const { casting } = result;
  const beside = cautions.take('Casting');
  const parts: SheetPart[] = beside.length > 0 ? [{ kind: 'cautions', lines: beside }] : [];
  if (casting === null) {
    parts.push({
      kind: 'lines',
      lines: [
        line(
          isLoadPending(result)
            ? 'Not worked out yet.'
            : 'Not worked out: the scan does not say which way the fill presses.',
        ),
      ],
    });
  } else {
    parts.push({ kind: 'facts', facts: castingFacts(plan, result, casting, system) });
    const fasteners = fastenerTable(result, casting, system);
    if (fasteners !== null) parts.push(fasteners);
    if (casting.screening.length > 0) parts.push(screeningTable(result, casting, system));
    if (casting.says.length > 0)
      parts.push({
        kind: 'lines',
        lines: (system === 'us' ? casting.usSays : casting.says).map((text) => line(text)),
      });
  }
  return { id: 'casting', title: 'Filled', parts };
}

function castingFacts(
  plan: PlanDocument,
  { pieces }: PlanResult,
  casting: CastingResult,
  system: UnitSystem,
): SheetLine[] {
  const { name, workingLoadN } = plan.supplies.fastener;
  const fact = (lead: string, text: string): SheetLine => ({ lead, text });
  return [
    fact(
      'Fill',
      `${casting.densityGPerCm3} g/cm³, ${casting.attitude === 'foot-up' ? 'foot upward' : 'standing as built'}, ${formatLength(casting.headMm, system)} deep`,
    ),
    fact('Pressure at most', formatPressure(casting.maxPressurePa, system)),
    ...casting.pieces.map((piece) =>
      fact(
        `On ${namePiece(pieces, piece.piece)}`,
        piece.openingN >= 0
          ? `opened along its pull by ${formatForce(piece.openingN, system)}`
          : `pressed on by ${formatForce(-piece.openingN, system)}`,
      ),
    ),
    fact(
      'Fasteners',
      casting.fasteners === 0
        ? 'none: no line to close'
        : `${casting.fasteners} of ${name}, closest ${formatLength(casting.fastenerSpacingMm, system)} apart, no more than ${formatForce(workingLoadN, system)} on one`,
    ),
    fact(
      'Off the board',
      casting.upliftN > 0
        ? `wants to lift by ${formatForce(casting.upliftN, system)}: hold it down`
        : sayHeldDown(casting, system),
    ),
    ...(casting.seam === null
      ? []
      : [
          fact(
            'Leaks first',
            `${formatLength(casting.seam.pointMm[2], system)} above the board${casting.attitude === 'foot-up' ? ', as built' : ''}, under ${formatPressure(casting.seam.pressurePa, system)}`,
          ),
        ]),
    ...(casting.castG === null ? [] : [fact('The cast', formatMass(casting.castG, system))]),
    ...(casting.filledMouldG === null
      ? []
      : [fact('Filled mould', formatMass(casting.filledMouldG, system))]),
  ];
}

function fastenerTable({ pieces }: PlanResult, casting: CastingResult, system: UnitSystem): SheetPart | null {
  const { fastenerPoints } = casting;
  if (fastenerPoints.length === 0) return null;
  const borders = new Map<string, (typeof fastenerPoints)[number][]>();
  for (const point of fastenerPoints) {
    const key = `${namePiece(pieces, point.between[0])} to ${namePiece(pieces, point.between[1])}`;
    borders.set(key, [...(borders.get(key) ?? []), point]);
  }
  return table(
    [
      column('Along the flange'),
      column('Fasteners', 'number'),
      column('Most on one', 'number'),
      column(
        casting.attitude === 'foot-up' ? 'Heights above the board, as built' : 'Heights above the board',
      ),
    ],
    [...borders].map(([border, points]) =>
      row([
        border,
        `${points.length}`,
        formatForce(Math.max(...points.map((point) => point.loadN)), system),
        points
          .map((point) => point.pointMm[2])
          .sort((a, b) => a - b)
          .map((heightMm) => formatLength(heightMm, system))
          .join(', '),
      ]),
    ),
    { isWhole: true },
  );
}

function screeningTable({ pieces }: PlanResult, casting: CastingResult, system: UnitSystem): SheetPart {
  return table(
    [
      column('Piece'),
      column('Compared with'),
      column('Stress', 'number'),
      column('Bends', 'number'),
      column('Strength over it', 'number'),
    ],
    casting.screening.map((one) =>
      row([
        namePiece(pieces, one.piece),
        cell(SCREENING_WORDS[one.formula], readSaid(one, 'from', system)),
        formatStress(one.stressMPa, system),
        one.deflectionMm === null ? '' : formatLength(one.deflectionMm, system),
        one.reserve === null ? 'nothing to compare' : one.reserve.toFixed(1),
      ]),
    ),
    {
      caption: 'Comparisons of the thickness',
      intro: [line('For comparing options, not for approval.')],
    },
  );
}
