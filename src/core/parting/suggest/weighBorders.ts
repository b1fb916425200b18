import { BallGrid } from '../../field/BallGrid.ts';
import { vectorLength } from '../../mesh/vectorLength.ts';
import type { AreaBall } from '../../plan/ballsOf.ts';
import type { SurfaceDiffusion } from '../SurfaceDiffusion.ts';

/** A bend as sharp as this share of the diagonal is a full ridge or valley. A choice. */
const RIDGE_RADIUS_SHARE = 0.03;
/** A line along a ridge costs this much less, along a valley this much more: a shim stands well on one, badly in the other. Choices. */
const RIDGE_GAIN = 0.5;
const VALLEY_LOSS = 0.4;
/** A line through an area where the user wants none costs this many times its length. */
const NOT_HERE_FACTOR = 60;

/** Edges between neighbouring vertices and what a line costs that passes between them. */
export interface BorderEdges {
  readonly from: Uint32Array;
  readonly to: Uint32Array;
  /** Length of the line between the two vertices (their dual edge), mm, weighed. */
  readonly cost: Float64Array;
  /** By vertex: 1 in an area where no line may run. */
  readonly isBarred: Uint8Array;
}

/**
 * What lines cost that part the vertices of a surface: their length, less along ridges, more along valleys and in the
 * areas that they are to keep out of.
 *
 * @param barred balls; each is taken wider by `marginMm`, for a line still moves when it is smoothed.
 * Cost: O(vertices).
 */
export function weighBorders(
  graph: SurfaceDiffusion,
  barred: readonly AreaBall[],
  marginMm: number,
  diagonalMm: number,
): BorderEdges {
  const { count, starts, neighbours, stiffness, positions: p } = graph;
  const bends = measureVertexBends(graph);
  const isBarred = new Uint8Array(count);
  if (barred.length > 0) {
    const grid = new BallGrid(barred, marginMm);
    for (let v = 0; v < count; v++) {
      if (grid.reachInto(p[3 * v], p[3 * v + 1], p[3 * v + 2]) > -marginMm) isBarred[v] = 1;
    }
  }
  const edgeCount = neighbours.length / 2;
  const from = new Uint32Array(edgeCount);
  const to = new Uint32Array(edgeCount);
  const cost = new Float64Array(edgeCount);
  const fullBend = 1 / (RIDGE_RADIUS_SHARE * diagonalMm);
  let n = 0;
  for (let v = 0; v < count; v++) {
    for (let e = starts[v]; e < starts[v + 1]; e++) {
      const w = neighbours[e];
      if (w < v) continue;
      const length = vectorLength(
        p[3 * w] - p[3 * v],
        p[3 * w + 1] - p[3 * v + 1],
        p[3 * w + 2] - p[3 * v + 2],
      );
      const bend = Math.max(-1, Math.min(1, (bends[v] + bends[w]) / 2 / fullBend));
      const factor = bend > 0 ? 1 - RIDGE_GAIN * bend : 1 - VALLEY_LOSS * bend;
      from[n] = v;
      to[n] = w;
      // The dual edge is as long as the edge times its cotangent weight.
      cost[n] = stiffness[e] * length * factor * (isBarred[v] || isBarred[w] ? NOT_HERE_FACTOR : 1);
      n++;
    }
  }
  return { from: from.subarray(0, n), to: to.subarray(0, n), cost: cost.subarray(0, n), isBarred };
}

/** Twice the mean curvature at each vertex, 1/mm, positive on ridges: the cotangent Laplacian of the positions along the normal. */
function measureVertexBends(graph: SurfaceDiffusion): Float64Array {
  const { count, starts, neighbours, stiffness, positions: p, areas, areaVectors } = graph;
  const bends = new Float64Array(count);
  for (let v = 0; v < count; v++) {
    let x = 0;
    let y = 0;
    let z = 0;
    for (let e = starts[v]; e < starts[v + 1]; e++) {
      const w = neighbours[e];
      x += stiffness[e] * (p[3 * v] - p[3 * w]);
      y += stiffness[e] * (p[3 * v + 1] - p[3 * w + 1]);
      z += stiffness[e] * (p[3 * v + 2] - p[3 * w + 2]);
    }
    const length = vectorLength(areaVectors[3 * v], areaVectors[3 * v + 1], areaVectors[3 * v + 2]);
    if (!(length > 0 && areas[v] > 0)) continue;
    bends[v] =
      (x * areaVectors[3 * v] + y * areaVectors[3 * v + 1] + z * areaVectors[3 * v + 2]) /
      (length * areas[v]);
  }
  return bends;
}
