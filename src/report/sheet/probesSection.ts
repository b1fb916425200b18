import type { PlanResult } from '../../core/PlanResult.ts';
import type { Side } from '../../core/picture/SideView.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import { formatArea, formatLength, type UnitSystem } from '../../core/units.ts';
import { namePiece } from '../namePiece.ts';
import { readSaid } from '../readSaid.ts';
import { sayPrediction } from '../sayPrediction.ts';
import { sayRidgeMass } from '../sayRidgeMass.ts';
import { saySpotPlace } from '../saySpotPlace.ts';
import type { SheetFigure, SheetSection } from './Sheet.ts';
import { column, line, row, table } from './sheetParts.ts';

const SIDE_WORDS: Readonly<Record<Side, string>> = {
  front: 'front',
  right: 'right',
  back: 'back',
  left: 'left',
};

/** Where to put the pin, with room for what it says after each coat. */
export function probesSection(
  plan: PlanDocument,
  { probes, pieces }: PlanResult,
  figures: readonly SheetFigure[] | null,
  system: UnitSystem,
): SheetSection {
  const seenFrom = (number: number): string => {
    const sides = (figures ?? [])
      .filter(({ picture }) =>
        picture.labels.some((label) => label.kind === 'probe' && label.number === number),
      )
      .map(({ picture }) => SIDE_WORDS[picture.side]);
    return sides.length === 0 ? '\u2013' : sides.join(', ');
  };
  const levelledByMm = pieces.find(({ thin }) => thin !== null)?.thin?.levelledByMm ?? null;
  return {
    id: 'probes',
    title: 'Where to put the pin',
    parts: [
      {
        kind: 'lines',
        lines: [
          line(
            `Thinnest spots first, numbered as on the figures. Least that will do: ${formatLength(plan.leastThicknessMm, system)}. ${sayPrediction(levelledByMm, system)}`,
          ),
        ],
      },
      table(
        [
          column('Spot', 'weight'),
          column('Piece'),
          column('Seen from'),
          column('Above the board', 'number'),
          column('Predicted, all coats', 'number'),
          ...plan.coats.map((coat) => column(`After ${coat.name}`, 'write')),
        ],
        probes.map((probe) =>
          row([
            `${probe.number}`,
            namePiece(pieces, probe.piece),
            seenFrom(probe.number),
            formatLength(probe.pointMm[2], system),
            formatLength(probe.predictedMm, system),
            ...plan.coats.map((_, n) => {
              const measured = probe.measured.findLast((one) => one.coatsOn === n + 1);
              return measured === undefined ? '' : formatLength(measured.thicknessMm, system);
            }),
          ]),
        ),
      ),
      ...thinParts(pieces, system),
    ],
  };
}

/** The spots that are too thin, with room to tick off, and the extra coat that mends them. */
function thinParts(pieces: PlanResult['pieces'], system: UnitSystem): SheetSection['parts'] {
  const thin = pieces.flatMap((piece) => (piece.thin === null ? [] : [piece.thin]));
  const spots = thin.flatMap((one) => one.spots);
  if (spots.length === 0) return [];
  return [
    table(
      [
        column('Thin spot', 'weight'),
        column('Where'),
        column('Thinnest', 'number'),
        column('Area', 'number'),
        column('Ridge coat', 'number'),
        column('Done', 'write'),
      ],
      spots.map((spot) =>
        row([
          spot.id,
          saySpotPlace(spot, system),
          formatLength(spot.minMm, system),
          formatArea(spot.areaMm2, system),
          sayRidgeMass(spot.massG, system),
          '',
        ]),
      ),
      { caption: 'Spots below the least thickness', isWhole: true },
    ),
    {
      kind: 'lines',
      lines: pieces.flatMap(({ name, thin: one }) =>
        one?.ridgeCoat ? [line(readSaid(one.ridgeCoat, 'text', system), name)] : [],
      ),
    },
  ];
}
