import type { PieceResult, PlanResult } from '../../core/PlanResult.ts';
import { formatArea, formatBound, formatLength, formatMass, type UnitSystem } from '../../core/units.ts';
import { CARRY_WORDS } from '../carryWords.ts';
import { sayRemoval } from '../describeUndercuts.ts';
import { sayPull } from '../sayPull.ts';
import type { SheetSection } from './Sheet.ts';
import { sayWayOff } from './sayWayOff.ts';
import { cell, column, row, table } from './sheetParts.ts';

/** Pieces and what they weigh, and in which order they come off. */
export function piecesSection(result: PlanResult, system: UnitSystem): SheetSection {
  const { pieces, shell, handling, removal } = result;
  const carryOf = (id: string): string => {
    const lift = handling.find((one) => one.piece === id && one.state === 'wet');
    return lift === undefined ? '' : CARRY_WORDS[lift.carry];
  };
  const likeG = Math.min(...pieces.map((piece) => piece.massG), Number.MAX_VALUE);
  const mass = (amountG: number, errorG: number) =>
    cell(formatMass(amountG, system, likeG), formatBound(errorG, amountG, 'mass', system, likeG));
  const rows = pieces.map((piece: PieceResult, n) =>
    row([
      `${n}`,
      cell(piece.name),
      cell(sayWayOff(piece.pull), sayPull(piece.pull)),
      formatArea(piece.areaMm2, system),
      piece.flange.lengthMm > 0 ? formatLength(piece.flange.lengthMm, system) : '\u2013',
      mass(piece.massG, piece.massErrorG),
      formatMass(piece.dryMassG, system, likeG),
      carryOf(piece.id),
    ]),
  );
  if (pieces.length > 1) {
    rows.push(
      row(
        [
          '',
          'Together',
          '',
          formatArea(result.rubber.areaMm2, system),
          '',
          mass(shell.massG, shell.massErrorG),
          formatMass(
            pieces.reduce((sum, piece) => sum + piece.dryMassG, 0),
            system,
            likeG,
          ),
          '',
        ],
        'total',
      ),
    );
  }
  const removalLines = removal === null ? [] : sayRemoval(removal, pieces);
  return {
    id: 'pieces',
    title: 'Pieces',
    parts: [
      table(
        [
          column('', 'tint'),
          column('Piece'),
          column('Pulls'),
          column('Covers', 'number'),
          column('Flange', 'number'),
          column('As laid up', 'number'),
          column('Dry', 'number'),
          column('Lift, wet'),
        ],
        rows,
        { isWhole: true },
      ),
      ...(removalLines.length > 0 ? [{ kind: 'lines' as const, lines: removalLines }] : []),
    ],
  };
}
