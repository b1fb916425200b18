import type { MaterialSystem } from './material/MaterialSystem.ts';
import { plainMassG } from './material/plainMassG.ts';
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
  filler: MaterialSystem,
): UndercutResult | null {
  if (undercut === null) return null;
  const piece = undercut.pieces[region];
  return {
    ...piece,
    fillerG: plainMassG(filler, piece.fillerMm3),
    beyondGive: { ...piece.beyondGive, fillerG: plainMassG(filler, piece.beyondGive.fillerMm3) },
    spots: undercut.spots
      .filter((spot) => spot.region === region)
      .slice(0, MOST_SPOTS)
      .map((spot) => spotResult(spot, filler)),
    pulls: pulls?.[region] ?? null,
    prying: prying?.[region] ?? null,
  };
}

export function fillerResult(
  blockOut: BlockOut,
  spots: readonly Spot[],
  names: readonly PieceName[],
  filler: MaterialSystem,
): FillerResult {
  const volumeMm3 = blockOut.volumeMm3.reduce((sum, volume) => sum + volume, 0);
  const volumeErrorMm3 = blockOut.volumeErrorMm3.reduce((sum, bound) => sum + bound, 0);
  return {
    volumeMm3,
    volumeErrorMm3,
    massG: plainMassG(filler, volumeMm3),
    massErrorG: plainMassG(filler, volumeErrorMm3),
    byPiece: blockOut.volumeMm3.map((volume, region) => ({
      piece: names[region].id,
      volumeMm3: volume,
      massG: plainMassG(filler, volume),
    })),
    spots: spots.map((spot) => spotResult(spot, filler)),
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

const spotResult = ({ region: _region, ...spot }: Spot, filler: MaterialSystem): SpotResult => ({
  ...spot,
  fillerG: plainMassG(filler, spot.fillerMm3),
});
