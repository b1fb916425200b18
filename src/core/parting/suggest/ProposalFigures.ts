import type { LaidProposal } from './layProposal.ts';

/** How a proposal would do, by region of its pieces. */
export interface ProposalFigures {
  readonly pieces: readonly PieceFigures[];
  /** Regions in the order in which they come off; those that lock each other last. */
  readonly order: readonly number[];
  /** Pairs in which the second has to be off before the first can move. */
  readonly waits: readonly (readonly [number, number])[];
  readonly locked: readonly number[];
}

export interface PieceFigures {
  /** Area of the piece, mm2. */
  readonly areaMm2: number;
  /** Area that is undercut, and that of it which locks deeper than the rubber yields, mm2. */
  readonly undercutMm2: number;
  readonly beyondGiveMm2: number;
  readonly maxDepthMm: number;
  /** The same without spots too small to rank a proposal. */
  readonly tellingDepthMm: number;
  readonly fillerMm3: number;
  readonly beyondGiveFillerMm3: number;
  /** Length of line along which the parting wall stands in this piece's way, mm. */
  readonly wallBlockedMm: number;
}

/** Length of all lines and of the longest run between the same two pieces, mm. */
export function measureRuns({ step }: LaidProposal): { lineMm: number; longestMm: number } {
  let lineMm = 0;
  let longestMm = 0;
  for (const { lengthMm } of step.chains) {
    lineMm += lengthMm;
    longestMm = Math.max(longestMm, lengthMm);
  }
  return { lineMm, longestMm };
}

/** Figures by the regions of one cut, in the order of another cut's regions of the same pieces. */
export function reorderFigures(
  figures: ProposalFigures,
  from: LaidProposal,
  to: LaidProposal,
): ProposalFigures {
  const regionIn = (region: number): number => to.pieceOf.indexOf(from.pieceOf[region]);
  return {
    pieces: Array.from(to.pieceOf, (piece) => figures.pieces[from.pieceOf.indexOf(piece)]),
    order: figures.order.map(regionIn),
    waits: figures.waits.map(([region, by]) => [regionIn(region), regionIn(by)] as const),
    locked: figures.locked.map(regionIn),
  };
}
