import type { Checkpoint } from '../../checkpoint.ts';
import { PlanError } from '../../errors.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { PartingLinePlan, PartingPlan, PiecePlan } from '../../plan/PlanDocument.ts';
import { labelOfRegions } from '../labelOfRegions.ts';
import { linesBetween } from '../linesBetween.ts';
import { type PartingStep, planParting } from '../planParting.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import type { SurfaceDiffusion } from '../SurfaceDiffusion.ts';

/** When the lines make too many pieces, those shorter than this share of the diagonal are left out: bits at a ragged rim. */
const SHORT_LINE_SHARE = 0.1;

/** Lines and pieces as a plan has them, and what they make of the surface that they were laid on. */
export interface LaidProposal {
  readonly lines: readonly PartingLinePlan[];
  readonly planPieces: readonly PiecePlan[];
  readonly step: PartingStep;
  /** By region of the cut which of the pieces it is. */
  readonly pieceOf: Int32Array;
}

/**
 * Labels turned into parting lines and pieces of a plan, laid and cut by the same way as any plan's, with the labels in the
 * order of those pieces; null when no lines come out that part the surface into exactly these pieces.
 *
 * @param values of `smoothBorders`. @param pulls by label, unit vectors.
 */
export async function layProposal(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  values: readonly Float64Array[],
  pulls: readonly Vec3[],
  parting: PartingPlan,
  cp: Checkpoint,
): Promise<{ readonly laid: LaidProposal; readonly labels: Int32Array } | null> {
  const order = capsFirst(surface, labels, pulls.length);
  const ordered = labels.map((label) => (label < 0 ? label : order.indexOf(label)));
  const orderedValues = order.map((label) => values[label]);
  const planPieces = order.map(
    (label, k): PiecePlan => ({
      anchorMm: deepestVertex(surface, graph, ordered, orderedValues, k),
      name: '',
      pull: pulls[label],
    }),
  );
  for (const leastMm of [0, SHORT_LINE_SHARE * surface.diagonalMm]) {
    try {
      const lines = linesBetween(surface, graph, ordered, orderedValues, pulls.length, leastMm);
      const laid = await layAgain(
        surface,
        { lines, planPieces },
        ordered,
        graph.areas,
        undefined,
        parting,
        cp,
      );
      return { laid, labels: ordered };
    } catch (error) {
      if (!(error instanceof PlanError)) throw error;
    }
  }
  return null;
}

/**
 * The same lines and pieces on a surface, laid and cut. Throws PlanError 'bad-line' when they do not make these pieces there.
 *
 * @param labels by vertex, in the order of the pieces. @param surfaceVert by vertex which vertex of the surface it is.
 */
export async function layAgain(
  surface: SurfaceContext,
  made: { readonly lines: readonly PartingLinePlan[]; readonly planPieces: readonly PiecePlan[] },
  labels: Int32Array,
  areas: ArrayLike<number>,
  surfaceVert: ArrayLike<number> | undefined,
  parting: PartingPlan,
  cp: Checkpoint,
): Promise<LaidProposal> {
  const { lines, planPieces } = made;
  const step = await planParting(surface, { ...parting, lines, pieces: planPieces }, cp);
  const pieceOf = labelOfRegions(step.cut, labels, areas, planPieces.length, surfaceVert);
  const isAsMeant =
    pieceOf !== null && step.pieces.every((piece, r) => isSame(piece.pull, planPieces[pieceOf[r]].pull));
  if (pieceOf === null || !isAsMeant)
    throw new PlanError('bad-line', 'These lines do not make the pieces they were laid for.');
  const named = planPieces.map((piece, k) => ({ ...piece, name: step.pieces[pieceOf.indexOf(k)].name }));
  return { lines, planPieces: named, step, pieceOf };
}

function isSame(a: Vec3, b: Vec3 | null): boolean {
  return b !== null && Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) < 1e-6;
}

/** Labels that do not touch the rim first: their closed lines are what the others' lines end on. */
function capsFirst(surface: SurfaceContext, labels: Int32Array, labelCount: number): number[] {
  const touches = new Uint8Array(labelCount);
  for (let v = 0; v < surface.vertCount; v++)
    if (surface.isOnRim[v] && labels[v] >= 0) touches[labels[v]] = 1;
  return Array.from({ length: labelCount }, (_, k) => k).sort((a, b) => touches[a] - touches[b] || a - b);
}

/** Where the label leads most: far from its lines. */
function deepestVertex(
  surface: SurfaceContext,
  graph: SurfaceDiffusion,
  labels: Int32Array,
  values: readonly Float64Array[],
  label: number,
): Vec3 {
  let best = -1;
  let most = -Infinity;
  for (let v = 0; v < surface.vertCount; v++) {
    if (labels[v] !== label || !(graph.areas[v] > 0)) continue;
    let lead = Infinity;
    for (let k = 0; k < values.length; k++)
      if (k !== label) lead = Math.min(lead, values[label][v] - values[k][v]);
    if (lead > most) {
      most = lead;
      best = v;
    }
  }
  const p = surface.positions;
  return best < 0 ? [0, 0, 0] : [p[3 * best], p[3 * best + 1], p[3 * best + 2]];
}
