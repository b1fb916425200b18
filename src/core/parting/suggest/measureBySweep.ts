import { writeTriNormal } from '../../mesh/writeNormal.ts';
import type { LaidProposal } from './layProposal.ts';
import type { PieceFigures, ProposalFigures } from './ProposalFigures.ts';
import type { HiddenFaces } from './tabulateCosts.ts';

/** Fewer faces than this share of a piece do not rank a proposal. */
const TELLING_SHARE = 5e-4;

/**
 * Rough figures of a proposal from a raster sweep of the simplified surface, good for choosing which ones to look at more
 * closely: the filler is that of the undercut faces times half their depth, the order of removal is left as it is.
 *
 * @param sweep of the simplified surface's triangles. @param directionOf by region its direction in the sweep.
 */
export function measureBySweep(
  { step }: LaidProposal,
  sweep: HiddenFaces,
  directionOf: readonly number[],
  giveMm: number,
): ProposalFigures {
  const { cut } = step;
  const normal = new Float64Array(3);
  const sums = step.pieces.map(() => ({
    areaMm2: 0,
    undercutMm2: 0,
    beyondGiveMm2: 0,
    maxDepthMm: 0,
    tellingDepthMm: 0,
    fillerMm3: 0,
    beyondGiveFillerMm3: 0,
    wallBlockedMm: 0,
  }));
  const deep = step.pieces.map((): { depth: number; area: number }[] => []);
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    const region = cut.cutTriRegion[t];
    const area = writeTriNormal(cut, t, normal) / 2;
    const sum = sums[region];
    sum.areaMm2 += area;
    const face = directionOf[region] * sweep.faceCount + cut.cutTriSource[t];
    if (!sweep.hidden[face]) continue;
    const depth = sweep.depthMm[face];
    sum.undercutMm2 += area;
    deep[region].push({ depth, area });
    sum.maxDepthMm = Math.max(sum.maxDepthMm, depth);
    sum.fillerMm3 += (area * depth) / 2;
    if (depth <= giveMm) continue;
    sum.beyondGiveMm2 += area;
    sum.beyondGiveFillerMm3 += (area * depth) / 2;
  }
  const pieces = sums.map(
    (sum, region): PieceFigures => ({ ...sum, tellingDepthMm: tellingDepth(deep[region], sum.areaMm2) }),
  );
  return { pieces, order: pieces.map((_, region) => region), waits: [], locked: [] };
}

/** The depth that a telling share of a piece's area exceeds. */
function tellingDepth(faces: { depth: number; area: number }[], areaMm2: number): number {
  faces.sort((a, b) => b.depth - a.depth);
  let sum = 0;
  for (const { depth, area } of faces) {
    sum += area;
    if (sum > TELLING_SHARE * areaMm2) return depth;
  }
  return 0;
}
