import type { Checkpoint } from '../../checkpoint.ts';
import { FlowNetwork } from './FlowNetwork.ts';

/** What a labelling costs: each node its label, each edge whose ends differ its weight, each label in use its own price. */
export interface LabelProblem {
  readonly nodeCount: number;
  readonly labelCount: number;
  /** labelCount x nodeCount, label by label, none negative. */
  readonly nodeCost: ArrayLike<number>;
  /** Ends of the edges, each pair once. */
  readonly from: Uint32Array;
  readonly to: Uint32Array;
  /** By edge, none negative. */
  readonly edgeCost: Float64Array;
  /** By label, none negative. */
  readonly labelCost: readonly number[];
}

/** Passes over all labels; real surfaces need two or three. */
const MOST_PASSES = 6;
/** A move must gain more than this share of the cost, or rounding could let two labellings take turns for ever. */
const LEAST_GAIN = 1e-9;

/** Cost of a labelling. O(nodes + edges). */
export function costOfLabels(problem: LabelProblem, labels: Int32Array): number {
  const { nodeCount, nodeCost, from, to, edgeCost, labelCost } = problem;
  const used = new Uint8Array(problem.labelCount);
  let sum = 0;
  for (let v = 0; v < nodeCount; v++) {
    sum += nodeCost[labels[v] * nodeCount + v];
    used[labels[v]] = 1;
  }
  for (let e = 0; e < from.length; e++) if (labels[from[e]] !== labels[to[e]]) sum += edgeCost[e];
  for (let k = 0; k < used.length; k++) if (used[k]) sum += labelCost[k];
  return sum;
}

/**
 * Lowers the cost of `labels`, in place, until no label can gain by spreading: expansion moves of Boykov, Veksler & Zabih
 * (2001), "Fast approximate energy minimization via graph cuts", with the label prices of Delong, Osokin, Isack & Boykov
 * (2012). Two labels without prices are solved exactly; else the result costs at most twice the least (Potts model).
 *
 * Returns the final cost. Cancels at its checkpoint. Cost: one least cut a label and pass.
 */
export async function expandLabels(
  problem: LabelProblem,
  labels: Int32Array,
  cp: Checkpoint,
): Promise<number> {
  let cost = costOfLabels(problem, labels);
  let idle = 0;
  for (let move = 0; move < MOST_PASSES * problem.labelCount && idle < problem.labelCount; move++) {
    if (cp.due()) await cp.pause(move / (MOST_PASSES * problem.labelCount));
    const next = expandOne(problem, labels, move % problem.labelCount);
    const nextCost = costOfLabels(problem, next);
    if (nextCost < cost * (1 - LEAST_GAIN)) {
      labels.set(next);
      cost = nextCost;
      idle = 0;
    } else idle++;
  }
  return cost;
}

/** The best labelling in which each node keeps its label or takes `alpha`. On the sink's side a node takes it. */
function expandOne(problem: LabelProblem, labels: Int32Array, alpha: number): Int32Array {
  const { nodeCount, labelCount, nodeCost, from, to, edgeCost, labelCost } = problem;
  const members = new Int32Array(labelCount);
  for (let v = 0; v < nodeCount; v++) members[labels[v]]++;
  // One node more for each priced label that the move can bring in or drop.
  const extra = new Int32Array(labelCount).fill(-1);
  let extraCount = 0;
  let extraEdges = 0;
  for (let k = 0; k < labelCount; k++) {
    if (!(labelCost[k] > 0)) continue;
    if (k === alpha ? members[k] > 0 : members[k] === 0) continue;
    extra[k] = nodeCount + extraCount++;
    extraEdges += k === alpha ? nodeCount : members[k];
  }
  const edgeCount = from.length + extraEdges;
  const tail = new Uint32Array(edgeCount);
  const head = new Uint32Array(edgeCount);
  const capacity = new Float64Array(2 * edgeCount);
  // Capacity from the source is what taking alpha costs, capacity to the sink what keeping costs.
  const surplus = new Float64Array(nodeCount + extraCount);
  for (let v = 0; v < nodeCount; v++) {
    surplus[v] = nodeCost[alpha * nodeCount + v] - nodeCost[labels[v] * nodeCount + v];
  }
  for (let e = 0; e < from.length; e++) {
    const p = from[e];
    const q = to[e];
    tail[e] = p;
    head[e] = q;
    const keepBoth = labels[p] !== labels[q] ? edgeCost[e] : 0;
    const takeQ = labels[p] !== alpha ? edgeCost[e] : 0;
    const takeP = labels[q] !== alpha ? edgeCost[e] : 0;
    // E(xp, xq) = keepBoth + (takeP - keepBoth) xp - takeP xq + (takeP + takeQ - keepBoth) (1 - xp) xq (Kolmogorov & Zabih 2004).
    surplus[p] += takeP - keepBoth;
    surplus[q] -= takeP;
    capacity[2 * e] = takeP + takeQ - keepBoth;
  }
  let e = from.length;
  for (let v = 0; v < nodeCount; v++) {
    const own = extra[labels[v]];
    // The price of a label is saved only when every one of its nodes leaves it.
    if (own >= 0 && labels[v] !== alpha) {
      tail[e] = v;
      head[e] = own;
      capacity[2 * e] = labelCost[labels[v]];
      e++;
    }
    // The price of alpha is paid as soon as one node takes it.
    if (extra[alpha] >= 0) {
      tail[e] = extra[alpha];
      head[e] = v;
      capacity[2 * e] = labelCost[alpha];
      e++;
    }
  }
  for (let k = 0; k < labelCount; k++) {
    if (extra[k] >= 0) surplus[extra[k]] = k === alpha ? labelCost[k] : -labelCost[k];
  }
  const side = new Uint8Array(nodeCount + extraCount);
  new FlowNetwork(nodeCount + extraCount, tail, head).solve(surplus, capacity, side);
  const next = labels.slice();
  for (let v = 0; v < nodeCount; v++) if (side[v]) next[v] = alpha;
  return next;
}
