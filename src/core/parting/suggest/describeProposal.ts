import { plainMassG } from '../../material/plainMassG.ts';
import type { RemovalResult } from '../../PlanResult.ts';
import { ballsOf } from '../../plan/ballsOf.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { regionAreas } from '../regionAreas.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { estimateMasses } from './estimateMasses.ts';
import type { RankedFigures } from './explainRanks.ts';
import type { LaidProposal } from './layProposal.ts';
import { measureRuns, type ProposalFigures } from './ProposalFigures.ts';

/** A proposal with all that is told of it but its rank. Cost: O(triangles). */
export function describeProposal(
  surface: SurfaceContext,
  laid: LaidProposal,
  figures: ProposalFigures,
  plan: PlanDocument,
): RankedFigures {
  const { step } = laid;
  const areasMm2 = regionAreas(step.cut, ballsOf(plan.scan.keepClear));
  const massesG = estimateMasses(surface, step.cut, step.chains, areasMm2, plan);
  const id = (region: number): string => step.pieces[region].id;
  const sum = (pick: (piece: ProposalFigures['pieces'][number]) => number): number =>
    figures.pieces.reduce((total, piece) => total + pick(piece), 0);
  const removal: RemovalResult = {
    order: figures.order.map(id),
    waits: figures.waits.map(([region, by]) => ({ piece: id(region), by: id(by) })),
    locked: figures.locked.map(id),
  };
  return {
    lines: laid.lines,
    planPieces: laid.planPieces,
    pieces: figures.pieces.map((piece, region) => ({
      id: id(region),
      pull: step.pieces[region].pull,
      areaMm2: areasMm2[region],
      massG: massesG[region],
      undercut: {
        areaMm2: piece.undercutMm2,
        maxDepthMm: piece.maxDepthMm,
        fillerMm3: piece.fillerMm3,
      },
    })),
    partingLines: step.chains.map((chain) => ({
      between: [id(chain.left), id(chain.right)] as const,
      lengthMm: chain.lengthMm,
      points: Array.from(
        { length: chain.points.length / 3 },
        (_, n) => [chain.points[3 * n], chain.points[3 * n + 1], chain.points[3 * n + 2]] as const,
      ),
    })),
    ...runsOf(laid),
    maxDepthMm: figures.pieces.reduce((most, piece) => Math.max(most, piece.maxDepthMm), 0),
    undercutMm2: sum((piece) => piece.undercutMm2),
    fillerMm3: sum((piece) => piece.fillerMm3),
    fillerG: plainMassG(
      plan.filler,
      sum((piece) => piece.fillerMm3),
    ),
    removal,
  };
}

function runsOf(laid: LaidProposal): { lineMm: number; longestFlangeMm: number } {
  const { lineMm, longestMm } = measureRuns(laid);
  return { lineMm, longestFlangeMm: longestMm };
}
