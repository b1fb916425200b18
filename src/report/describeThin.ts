import type { PlanResult, ThinResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { formatArea, formatLength, type UnitSystem } from '../core/units.ts';
import { areaCell, lengthCell, smallestOf, textCell } from './cells.ts';
import type { ReportRow, ReportSection } from './Report.ts';
import { readSaid } from './readSaid.ts';
import { sayPrediction } from './sayPrediction.ts';
import { sayRidgeMass } from './sayRidgeMass.ts';
import { saySpotPlace } from './saySpotPlace.ts';

/** Thin spots with what would mend them, and the points for the pin. Nothing while they are not worked out. */
export function describeThin(plan: PlanDocument, result: PlanResult, system: UnitSystem): ReportSection[] {
  const known = result.pieces.flatMap(({ id, thin }) => (thin ? [{ id, thin }] : []));
  if (known.length === 0) return [];
  const spots = known.flatMap(({ thin }) => thin.spots);
  const likeMm2 = smallestOf(spots.map((spot) => spot.areaMm2));
  const rows = spots.map(
    (spot): ReportRow => ({
      isTotal: false,
      cells: [
        textCell(spot.id),
        textCell(saySpotPlace(spot, system)),
        lengthCell(spot.minMm, system),
        areaCell(spot.areaMm2, likeMm2, system),
        textCell(sayRidgeMass(spot.massG, system)),
      ],
    }),
  );
  const least = formatLength(plan.leastThicknessMm, system);
  const levelled = known[0].thin.levelledByMm;
  return [
    {
      title: `Thin spots: below ${least}`,
      facts: known.map(({ id, thin }) => ({ label: `Thinnest on ${id}`, text: sayThinnest(thin, system) })),
      tables:
        rows.length > 0
          ? [
              {
                columns: [
                  { title: 'Spot', align: 'left' },
                  { title: 'Where', align: 'left' },
                  { title: 'Thinnest', align: 'right' },
                  { title: 'Area', align: 'right' },
                  { title: 'Ridge coat', align: 'right' },
                ],
                rows,
              },
            ]
          : [],
      paragraphs: [
        ...known.flatMap(({ id, thin: { ridgeCoat } }) =>
          ridgeCoat ? [{ lead: id, text: readSaid(ridgeCoat, 'text', system) }] : [],
        ),
        { lead: 'Model, not yet calibrated', text: sayPrediction(levelled, system) },
      ],
    },
    ...describeProbes(result, system),
  ];
}

function sayThinnest(
  { minMm, areaBelowMm2, spotCount, spots, rest }: ThinResult,
  system: UnitSystem,
): string {
  const thinnest = formatLength(minMm, system);
  if (spotCount === 0) return `${thinnest}, nothing below`;
  const more = spotCount - spots.length;
  const below = `${thinnest}; ${formatArea(areaBelowMm2, system)} below in ${spotCount} ${spotCount === 1 ? 'spot' : 'spots'}`;
  return more > 0 ? `${below}, ${more} of them (${formatArea(rest.areaMm2, system)}) not listed` : below;
}

function describeProbes({ probes, pieces }: PlanResult, system: UnitSystem): ReportSection[] {
  if (probes.length === 0) return [];
  return [
    {
      title: 'Where to put the pin',
      facts: [],
      tables: [
        {
          columns: [
            { title: 'Point', align: 'left' },
            { title: 'Piece', align: 'left' },
            { title: 'Above the board', align: 'right' },
            { title: 'Predicted, all coats', align: 'right' },
          ],
          rows: probes.map((probe) => ({
            isTotal: false,
            cells: [
              textCell(`${probe.number}`),
              textCell(pieces.find(({ id }) => id === probe.piece)?.name ?? probe.piece),
              lengthCell(probe.pointMm[2], system),
              lengthCell(probe.predictedMm, system),
            ],
          })),
        },
      ],
      paragraphs: [],
    },
  ];
}
