import type { Checkpoint } from '../../checkpoint.ts';
import { absorbIslands } from '../absorbIslands.ts';
import type { SurfaceDiffusion } from '../SurfaceDiffusion.ts';
import { expandLabels } from './expandLabels.ts';
import type { BorderEdges } from './weighBorders.ts';

/** Rounds of labelling and choosing each piece's pull anew; real surfaces come to rest in two or three. */
const MOST_ROUNDS = 4;
/** Where lines cost so much that a piece is given up, it is tried again with lines that cost less. */
const LINE_FACTORS = [1, 0.3, 0.1, 0.02];
/** A round must save more than this share of the cost. */
const LEAST_GAIN = 1e-3;

export interface LabelledPieces {
  /** By vertex of the graph, each label one connected set. */
  readonly labels: Int32Array;
  /** By label: index of its direction. */
  readonly pulls: readonly number[];
  /** Cost of vertices and lines before islands were absorbed, mm2. */
  readonly costMm2: number;
}

/**
 * The surface shared out among pieces with pulls: least sum of what the vertices cost in their pieces and of what the lines
 * cost between them; then each piece takes its best pull, and so on until nothing is gained. Islands are absorbed at the
 * end. Null when a pull is left without a piece.
 *
 * @param costs of `tabulateCosts`: directions x vertices. @param lineMm what a line costs, mm2 a mm of its length.
 * A body that comes free in fewer pieces would give up the others, for the lines they cost; then lines are made cheaper.
 * Cost: some ten least cuts. Cancels at its checkpoint.
 */
export async function labelPieces(
  graph: SurfaceDiffusion,
  costs: Float32Array,
  edges: BorderEdges,
  lineMm: number,
  startPulls: readonly number[],
  cp: Checkpoint,
): Promise<LabelledPieces | null> {
  for (const factor of LINE_FACTORS) {
    const pieces = await labelOnce(graph, costs, edges, factor * lineMm, startPulls, cp);
    if (pieces !== null) return pieces;
  }
  return null;
}

async function labelOnce(
  graph: SurfaceDiffusion,
  costs: Float32Array,
  edges: BorderEdges,
  lineMm: number,
  startPulls: readonly number[],
  cp: Checkpoint,
): Promise<LabelledPieces | null> {
  const { count } = graph;
  let pulls = [...startPulls];
  let labels: Int32Array = new Int32Array(count);
  let costMm2 = Infinity;
  let bestPulls = pulls;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const own = cp.within(round / MOST_ROUNDS, (round + 1) / MOST_ROUNDS, 'sharing out the pieces');
    const next = await cutOnce(graph, costs, edges, lineMm, pulls, own, round === 0 ? undefined : labels);
    if (!(next.costMm2 < costMm2 * (1 - LEAST_GAIN))) break;
    costMm2 = next.costMm2;
    labels = next.labels;
    bestPulls = pulls;
    const refitted = refitPulls(costs, labels, pulls, count);
    if (new Set(refitted).size < pulls.length || refitted.every((pull, k) => pull === pulls[k])) break;
    pulls = refitted;
  }
  absorbIslands(graph, labels, bestPulls.length);
  for (let k = 0; k < bestPulls.length; k++) if (!labels.includes(k)) return null;
  return { labels, pulls: bestPulls, costMm2 };
}

/** The labels that cost least, lines counted, for these pulls; from `start`, or from each vertex's cheapest pull. */
export async function cutOnce(
  graph: SurfaceDiffusion,
  costs: Float32Array,
  edges: BorderEdges,
  lineMm: number,
  pulls: readonly number[],
  cp: Checkpoint,
  start?: Int32Array,
): Promise<{ readonly labels: Int32Array; readonly costMm2: number }> {
  const { count } = graph;
  const nodeCost = new Float32Array(pulls.length * count);
  pulls.forEach((pull, k) => {
    nodeCost.set(costs.subarray(pull * count, (pull + 1) * count), k * count);
  });
  const labels = start?.slice() ?? cheapestLabels(nodeCost, pulls.length, count);
  const costMm2 = await expandLabels(
    {
      nodeCount: count,
      labelCount: pulls.length,
      nodeCost,
      from: edges.from,
      to: edges.to,
      edgeCost: edges.cost.map((cost) => cost * lineMm),
      labelCost: new Array<number>(pulls.length).fill(0),
    },
    labels,
    cp,
  );
  return { labels, costMm2 };
}

function cheapestLabels(nodeCost: Float32Array, labelCount: number, count: number): Int32Array {
  const labels = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    for (let k = 1; k < labelCount; k++) {
      if (nodeCost[k * count + v] < nodeCost[labels[v] * count + v]) labels[v] = k;
    }
  }
  return labels;
}

/** For each label the direction in which its vertices cost least; its present one where it has none or on a tie. */
function refitPulls(
  costs: Float32Array,
  labels: Int32Array,
  pulls: readonly number[],
  count: number,
): number[] {
  const directionCount = costs.length / count;
  const sums = new Float64Array(pulls.length);
  const least = new Float64Array(pulls.length).fill(Infinity);
  const best = [...pulls];
  const tryPull = (direction: number, isPresent: boolean): void => {
    sums.fill(0);
    const row = direction * count;
    for (let v = 0; v < count; v++) sums[labels[v]] += costs[row + v];
    for (let k = 0; k < pulls.length; k++) {
      if (isPresent && pulls[k] !== direction) continue;
      if (sums[k] > 0 && sums[k] < least[k] * (1 - LEAST_GAIN)) {
        least[k] = sums[k];
        best[k] = direction;
      }
    }
  };
  for (const pull of pulls) tryPull(pull, true);
  for (let direction = 0; direction < directionCount; direction++) tryPull(direction, false);
  return best;
}
