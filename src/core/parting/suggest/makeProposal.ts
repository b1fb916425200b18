import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import { describeProposal } from './describeProposal.ts';
import type { RankedFigures } from './explainRanks.ts';
import { type LabelledPieces, labelPieces } from './labelPieces.ts';
import { type LaidProposal, layProposal } from './layProposal.ts';
import { measureBySweep } from './measureBySweep.ts';
import type { ProposalFigures } from './ProposalFigures.ts';
import { directionAt, type SuggestGround } from './SuggestGround.ts';
import { barredMm, scoreProposal } from './scoreProposal.ts';
import { smoothBorders } from './smoothBorders.ts';

/** Bends of the line are rounded off at these shares of the diagonal, the first that can be laid. A choice. */
const ROUNDING_SHARES = [0.018, 0.03, 0.055];

/** A proposal on the simplified surface, with what ranks it. */
export interface Proposal {
  readonly laid: LaidProposal;
  /** By vertex of the simplified surface its piece, in the order of the plan's pieces. */
  readonly labels: Int32Array;
  /** By piece of the plan its pull. */
  readonly pulls: readonly Vec3[];
  readonly figures: ProposalFigures;
  readonly score: number;
  /** All that is told of it but its rank. */
  readonly told: RankedFigures;
}

/** Pieces for a set of directions, before any line is laid; for the margins round barred areas in turn. */
export function sharePieces(
  ground: SuggestGround,
  pulls: readonly number[],
  margin: number,
  cp: Checkpoint,
): Promise<LabelledPieces | null> {
  const { graph, costs, edges, lineMm } = ground;
  return labelPieces(graph, costs, edges[margin], lineMm, pulls, cp);
}

/**
 * Labelled pieces with lines laid between them on the simplified surface, measured and scored; null when none can be laid.
 * Of lines that run through barred areas those that do so least are taken, with wider margins tried first.
 */
export async function makeProposal(
  ground: SuggestGround,
  pieces: LabelledPieces,
  cp: Checkpoint,
): Promise<Proposal | null> {
  const { edges, barred } = ground;
  let best: Proposal | null = null;
  let bestBarredMm = Infinity;
  for (let margin = 0; margin < edges.length; margin++) {
    const own = cp.within(margin / edges.length, (margin + 1) / edges.length, 'trying lines');
    const shared = margin === 0 ? pieces : await sharePieces(ground, pieces.pulls, margin, own);
    const made = shared && (await layRounded(ground, shared, edges[margin].isBarred, own));
    if (!made) continue;
    const inBarredMm = barredMm(made.laid, barred);
    if (inBarredMm < bestBarredMm) {
      best = made;
      bestBarredMm = inBarredMm;
    }
    if (bestBarredMm === 0) break;
  }
  return best;
}

async function layRounded(
  ground: SuggestGround,
  pieces: LabelledPieces,
  isBarred: Uint8Array,
  cp: Checkpoint,
): Promise<Proposal | null> {
  const { surface, graph, costs, directions, plan } = ground;
  const pulls = pieces.pulls.map((pull) => directionAt(directions, pull));
  for (const share of ROUNDING_SHARES) {
    const labels = pieces.labels.slice();
    const values = await smoothBorders(
      graph,
      labels,
      costs,
      pieces.pulls,
      isBarred,
      share * surface.diagonalMm,
      cp,
    );
    if (values === null) continue;
    const made = await layProposal(surface, graph, labels, values, pulls, plan.parting, cp);
    if (made === null) continue;
    return judge(ground, made.laid, made.labels, pieces.pulls);
  }
  return null;
}

function judge(
  ground: SuggestGround,
  laid: LaidProposal,
  labels: Int32Array,
  gridPulls: readonly number[],
): Proposal {
  const { surface, plan, sweep, directions, barred } = ground;
  const giveMm = plan.parting.rubberGiveMm;
  const directionOf = laid.step.pieces.map(({ pull }) => {
    let best = gridPulls[0];
    let most = -Infinity;
    for (const k of gridPulls) {
      const d = directionAt(directions, k);
      const cosine = d[0] * pull[0] + d[1] * pull[1] + d[2] * pull[2];
      if (cosine > most) {
        most = cosine;
        best = k;
      }
    }
    return best;
  });
  const figures = measureBySweep(laid, sweep, directionOf, giveMm);
  return {
    laid,
    labels,
    pulls: laid.planPieces.map((piece) => piece.pull as Vec3),
    figures,
    score: scoreProposal(laid, figures, giveMm, surface.diagonalMm, barred),
    told: describeProposal(surface, laid, figures, plan),
  };
}
