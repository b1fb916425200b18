import { coatMix } from '../../core/material/coatMix.ts';
import type { PlanResult } from '../../core/PlanResult.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatBound, formatLength, formatMass, formatVolume, type UnitSystem } from '../../core/units.ts';
import { sayMinutes } from '../sayClock.ts';
import { sayCoverage } from '../sayCoverage.ts';
import type { SheetSection } from './Sheet.ts';
import { cell, column, line, row, table } from './sheetParts.ts';

/** The coats over all pieces, from the rubber outward, with the flange. */
export function coatsSection(plan: PlanDocument, result: PlanResult, system: UnitSystem): SheetSection {
  const { pieces, shell } = result;
  const sum = (of: (piece: (typeof pieces)[number]) => number): number =>
    pieces.reduce((total, piece) => total + of(piece), 0);
  const amounts = (volumeMm3: number, errorMm3: number, massG: number, massErrorG: number) => [
    cell(formatVolume(volumeMm3, system), formatBound(errorMm3, volumeMm3, 'volume', system)),
    cell(formatMass(massG, system), formatBound(massErrorG, massG, 'mass', system)),
  ];
  const hasOthers = plan.coats.some((coat) => coat.systemId !== null);
  const rows = plan.coats.map((coat, n) => {
    const wait = result.coatWork.find((work) => work.coat === n)?.times.partialCureMin;
    const { system: mixed, mix } = coatMix(plan, coat);
    const of = [
      coat.kind,
      ...(hasOthers ? [mixed.name] : []),
      sayCoverage(mix.densityGPerCm3, coat.thicknessMm, system),
    ].join(', ');
    return row([
      cell(`${n + 1}  ${coat.name}`, of),
      formatLength(coat.thicknessMm, system),
      ...amounts(
        sum((piece) => piece.coats[n].volumeMm3),
        sum((piece) => piece.coats[n].volumeErrorMm3),
        sum((piece) => piece.coats[n].massG),
        sum((piece) => piece.coats[n].massErrorG),
      ),
      wait === undefined ? '' : sayMinutes(wait),
    ]);
  });
  const flangeMm3 = sum((piece) => piece.flange.volumeMm3);
  if (flangeMm3 > 0 && plan.parting.flange !== null) {
    const errorMm3 = sum((piece) => piece.flange.volumeErrorMm3);
    const massG = sum((piece) => piece.flange.massG);
    rows.push(
      row([
        cell('Flange, both sides', 'laid up with the coats'),
        formatLength(plan.parting.flange.thicknessMm, system),
        ...amounts(flangeMm3, errorMm3, massG, (massG * errorMm3) / flangeMm3),
        '',
      ]),
    );
  }
  rows.push(
    row(
      ['Together', '', ...amounts(shell.volumeMm3, shell.volumeErrorMm3, shell.massG, shell.massErrorG), ''],
      'total',
    ),
  );
  const { layer } = result.rubber;
  const rubber =
    layer === null
      ? []
      : [
          line(
            `Under them goes rubber of ${formatLength(layer.thicknessMm, system)}: ${formatVolume(layer.volumeMm3, system)}, ${formatMass(layer.massG, system)}.`,
          ),
        ];
  const filler =
    result.filler === null
      ? []
      : [
          line(
            `Undercuts are filled first: ${formatVolume(result.filler.volumeMm3, system)} of filler, ${formatMass(result.filler.massG, system)}.`,
          ),
        ];
  return {
    id: 'coats',
    title: 'Coats, from the rubber outward',
    parts: [
      table(
        [
          column('Coat'),
          column('Thick', 'number'),
          column('Volume', 'number'),
          column('As laid up', 'number'),
          column('Wait after it', 'number'),
        ],
        rows,
      ),
      ...(rubber.length + filler.length > 0
        ? [{ kind: 'lines' as const, lines: [...filler, ...rubber] }]
        : []),
    ],
  };
}
