import { rubberMassG } from './material/coatMass.ts';
import type {
  FillerResult,
  PryingResult,
  PullsResult,
  RemovalResult,
  SpotResult,
  UndercutResult,
} from './PlanResult.ts';
import type { BlockOut } from './parting/blockOut/BlockOut.ts';
import type { PieceName } from './parting/planParting.ts';
import type { Spot, UndercutStep } from './parting/undercut/UndercutStep.ts';
import type { MaterialSystem } from './plan/PlanDocument.ts';

/** Spots told a piece; the sums count all. */
const MOST_SPOTS = 40;

/** What is known of the pulls by piece; each null until it is worked out. */
export interface JudgedPulls {
  readonly undercut: UndercutStep | null;
  readonly pulls: readonly PullsResult[] | null;
  readonly prying: readonly PryingResult[] | null;
}

/** Nothing is judged yet. */
export const NOT_JUDGED: JudgedPulls = { undercut: null, pulls: null, prying: null };

export function undercutResult(
  { undercut, pulls, prying }: JudgedPulls,
  region: number,
  material: MaterialSystem,
): UndercutResult | null {
  if (undercut === null) return null;
  const piece = undercut.pieces[region];
  return {
    ...piece,
    fillerG: rubberMassG(material, piece.fillerMm3),
    beyondGive: { ...piece.beyondGive, fillerG: rubberMassG(material, piece.beyondGive.fillerMm3) },
    spots: undercut.spots
      .filter((spot) => spot.region === region)
      .slice(0, MOST_SPOTS)
      .map(spotResult),
    pulls: pulls?.[region] ?? null,
    prying: prying?.[region] ?? null,
  };
}

export function fillerResult(
  blockOut: BlockOut,
  spots: readonly Spot[],
  names: readonly PieceName[],
  material: MaterialSystem,
): FillerResult {
  const volumeMm3 = blockOut.volumeMm3.reduce((sum, volume) => sum + volume, 0);
  const volumeErrorMm3 = blockOut.volumeErrorMm3.reduce((sum, bound) => sum + bound, 0);
  return {
    volumeMm3,
    volumeErrorMm3,
    massG: rubberMassG(material, volumeMm3),
    massErrorG: rubberMassG(material, volumeErrorMm3),
    byPiece: blockOut.volumeMm3.map((volume, region) => ({
      piece: names[region].id,
      volumeMm3: volume,
      massG: rubberMassG(material, volume),
    })),
    spots: spots.map(spotResult),
  };
}

export function removalResult({ removal }: UndercutStep, names: readonly PieceName[]): RemovalResult {
  const id = (region: number): string => names[region].id;
  return {
    order: removal.order.map(id),
    waits: removal.waits.map(([region, by]) => ({ piece: id(region), by: id(by) })),
    locked: removal.locked.map(id),
  };
}

const spotResult = ({ region: _region, ...spot }: Spot): SpotResult => spot;
