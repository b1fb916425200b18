import type { PieceResult, PlanResult, SpotResult, UndercutResult } from '../core/PlanResult.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { formatArea, formatLength, formatMass, formatVolume, type UnitSystem } from '../core/units.ts';
import { areaCell, massCell, smallestOf, textCell, volumeCell } from './cells.ts';
import { namePiece } from './namePiece.ts';
import type { ReportFact, ReportParagraph, ReportRow, ReportSection } from './Report.ts';
import { sayPull } from './sayPull.ts';

/** Spots listed a piece: those worth a look; the rest is summed in the line above. */
const SPOTS_TOLD = 6;

type Judged = PieceResult & { readonly undercut: UndercutResult };

/** What locks, how deep and what clears it: a row a piece, its worst spots, how the pieces come off. None while not worked out. */
export function describeUndercuts(
  plan: PlanDocument,
  { pieces, filler, removal }: PlanResult,
  system: UnitSystem,
): ReportSection[] {
  const judged = pieces.filter((piece): piece is Judged => piece.undercut !== null);
  if (judged.length === 0) return [];
  const give = formatLength(plan.parting.rubberGiveMm, system);
  return [
    {
      title: filler === null ? 'Undercuts' : 'Undercuts left beside the filler',
      facts: [
        ...judged.flatMap((piece) => tellPulls(piece, system)),
        ...(filler === null
          ? []
          : [
              {
                label: 'Filler accepted',
                text: `${formatVolume(filler.volumeMm3, system)}, ${formatMass(filler.massG, system)} of thickened rubber in ${filler.spots.length} ${filler.spots.length === 1 ? 'spot' : 'spots'}; the shell above is planned over it`,
              },
            ]),
      ],
      tables: [piecesTable(judged, system), ...(judged.some(hasSpots) ? [spotsTable(judged, system)] : [])],
      paragraphs: [
        {
          lead: '',
          text: `Depth is measured square to the pull. “Beyond the give” leaves out what locks no deeper than the rubber yields, ${give} here: craft knowledge, not geometry; set it by your own rubber.`,
        },
        ...(removal === null ? [] : sayRemoval(removal, pieces)),
        ...judged.flatMap((piece) => sayPrying(piece, system)),
      ],
    },
  ];
}

const hasSpots = (piece: Judged): boolean => piece.undercut.spots.length > 0;

function piecesTable(pieces: readonly Judged[], system: UnitSystem) {
  const likeMm2 = smallestOf(pieces.map(({ undercut }) => undercut.areaMm2));
  const likeMm3 = smallestOf(pieces.map(({ undercut }) => undercut.fillerMm3));
  const likeG = smallestOf(pieces.map(({ undercut }) => undercut.fillerG));
  return {
    columns: [
      { title: 'Piece', align: 'left' as const },
      { title: 'Undercut', align: 'right' as const },
      { title: 'Locks', align: 'right' as const },
      { title: 'Filler', align: 'right' as const },
      { title: 'Mass', align: 'right' as const },
      { title: 'Beyond the give', align: 'right' as const },
      { title: 'Least draft', align: 'right' as const },
    ],
    rows: pieces.map(({ id, undercut: u }): ReportRow => {
      const density = u.fillerMm3 > 0 ? u.fillerG / u.fillerMm3 : 0;
      return {
        isTotal: false,
        cells: [
          textCell(id),
          { ...areaCell(u.areaMm2, likeMm2, system), bound: `± ${formatArea(u.areaErrorMm2, system)}` },
          {
            text: formatLength(u.maxDepthMm, system),
            bound: `± ${formatLength(u.maxDepthErrorMm, system)}`,
          },
          volumeCell(u.fillerMm3, u.fillerErrorMm3, likeMm3, system),
          massCell(u.fillerG, density * u.fillerErrorMm3, likeG, system),
          textCell(formatMass(u.beyondGive.fillerG, system, likeG)),
          textCell(`${u.leastDraftDeg.toFixed(1)}°`),
        ],
      };
    }),
  };
}

function spotsTable(pieces: readonly Judged[], system: UnitSystem) {
  const spots = pieces.flatMap(({ undercut }) => undercut.spots.slice(0, SPOTS_TOLD));
  const likeMm2 = smallestOf(spots.map((spot) => spot.areaMm2));
  const likeMm3 = smallestOf(spots.map((spot) => spot.fillerMm3));
  return {
    columns: [
      { title: 'Spot', align: 'left' as const },
      { title: 'What', align: 'left' as const },
      { title: 'Locks', align: 'right' as const },
      { title: 'Area', align: 'right' as const },
      { title: 'Filler', align: 'right' as const },
      { title: 'At x, y, z', align: 'right' as const },
    ],
    rows: spots.map(
      (spot): ReportRow => ({
        isTotal: false,
        cells: [
          textCell(spot.id),
          textCell(saySpot(spot)),
          textCell(formatLength(spot.maxDepthMm, system)),
          areaCell(spot.areaMm2, likeMm2, system),
          textCell(formatVolume(spot.fillerMm3, system, likeMm3)),
          textCell(spot.atMm.map((x) => formatLength(x, system)).join(', ')),
        ],
      }),
    ),
  };
}

function saySpot({ kind, by, isWithinGive }: SpotResult): string {
  const what =
    kind === 'facing-away'
      ? 'faces away from the pull'
      : by === 'rubber'
        ? 'under an overhang of rubber'
        : by === 'piece'
          ? 'behind another piece'
          : 'against the board';
  return isWithinGive ? `${what}, within the give` : what;
}

function tellPulls({ id, undercut }: Judged, system: UnitSystem): ReportFact[] {
  const facts: ReportFact[] = [];
  const { pulls, wall, spotCount, spots } = undercut;
  if (pulls !== null) {
    const { best, clearing } = pulls;
    const worth =
      clearing.length > 0
        ? `clears it with ${best.leastDraftDeg.toFixed(1)}° of draft at least; ${clearing.length} directions of the grid do`
        : `locks ${formatLength(best.maxDepthMm, system)} at the deepest; no direction clears it`;
    facts.push({ label: `Best pull for ${id}`, text: `${sayPull(best.pull)}: ${worth}` });
  }
  if (wall.blockedMm > 0) {
    facts.push({
      label: `Parting wall of ${id}`,
      text: `${formatLength(wall.blockedMm, system)} of it stands in the way while its neighbour is on`,
    });
  }
  if (spotCount > Math.min(SPOTS_TOLD, spots.length)) {
    facts.push({
      label: `Spots on ${id}`,
      text: `${spotCount}, the worst ${Math.min(SPOTS_TOLD, spots.length)} below`,
    });
  }
  return facts;
}

/** What keeps the shell from coming off as it is planned: pieces that hold each other, and those that neither pull nor turn frees. */
export function sayTrapped({ pieces, removal }: PlanResult, system: UnitSystem): ReportParagraph[] {
  const isHeld = removal !== null && removal.locked.length > 0;
  return [
    ...(isHeld ? sayRemoval(removal, pieces) : []),
    ...pieces
      .filter((piece): piece is Judged => piece.undercut?.prying?.frees === 'locked')
      .flatMap((piece) => sayPrying(piece, system)),
  ];
}

/** In which order the pieces come off, and who holds whom. */
export function sayRemoval(
  removal: NonNullable<PlanResult['removal']>,
  pieces: readonly PieceResult[],
): ReportParagraph[] {
  if (pieces.length < 2) return [];
  const name = (id: string): string => namePiece(pieces, id);
  const { order, waits, locked } = removal;
  if (locked.length > 0) {
    return [
      {
        lead: 'Coming off',
        text: `${locked.map(name).join(' and ')} hold each other: no order takes them off along these pulls. Move the line between them, or change a pull.`,
      },
    ];
  }
  if (waits.length === 0) {
    return pieces.length > 2 ? [{ lead: 'Coming off', text: 'In any order: no piece holds another.' }] : [];
  }
  return [{ lead: 'Coming off', text: `In this order: ${order.map(name).join(', then ')}.` }];
}

function sayPrying({ id, undercut: { prying } }: Judged, system: UnitSystem): ReportParagraph[] {
  if (prying === null || prying.frees === 'pull') return [];
  const { axis, worstMm, turnDeg } = prying;
  const how = axis === null ? '' : ` about ${axis.name}`;
  const lead = `Tipping ${id}`;
  switch (prying.frees) {
    case 'turn':
      return [
        {
          lead,
          text: `No straight pull frees it, a small turn${how} does: over ${turnDeg}° it meets rubber by ${formatLength(worstMm, system)} at most.`,
        },
      ];
    case 'slide':
      return [{ lead, text: `It only slides along itself${how}; nothing lifts it clear at once.` }];
    case 'locked':
      return [
        {
          lead,
          text: `Neither a straight pull nor a small turn frees it; the best turn${how} meets rubber by ${formatLength(worstMm, system)} within ${turnDeg}°.`,
        },
      ];
  }
}
