import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../plan/PlanDocument.ts';
import { newClosestPoint, SurfaceTree } from '../../spatial/SurfaceTree.ts';
import { absorbIslands } from '../absorbIslands.ts';
import { linesBetween } from '../linesBetween.ts';
import type { PartingStep } from '../planParting.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { SurfaceDiffusion } from '../SurfaceDiffusion.ts';

/** A vertex is judged from this far outside, in cells: on a wall of filler that is the side that its shell stands on. */
const OUTSIDE_CELLS = 0.75;
/** The lead of one piece over the others is counted up to this, in cells, and evened out over `SMOOTH_CELLS`. */
const MOST_LEAD_CELLS = 6;
const SMOOTH_CELLS = 1.5;
/** A face turned to a piece's pull counts this much for it, in cells: at a wall of filler both pieces are equally near. */
const FACING_CELLS = 3;
/** Shorter lines are noise of the filler's edges, in cells. */
const LEAST_LINE_CELLS = 8;
/** Places along a line at which it is held against the former ones. */
const MATCH_POINTS = 24;

/**
 * The parting lines on the surface of rubber and filler, traced anew: every place belongs to the piece whose rubber is
 * nearest to the shell that stands on it, and the lines run where that changes. So a wall of filler goes to the piece that
 * lies against it, and the line comes to its outer edge. Null when there are not as many lines as before, one for each.
 *
 * Throws PlanError 'bad-line' -> a line crosses itself or ends nowhere. O(vertices x pieces) nearest points.
 */
export async function retraceLines(
  after: SurfaceContext,
  parting: PartingStep,
  cellMm: number,
  cp: Checkpoint,
): Promise<PartingLinePlan[] | null> {
  const { regionCount } = parting.cut;
  const graph = new SurfaceDiffusion(after);
  const distances: Float64Array[] = [];
  for (let region = 0; region < regionCount; region++) {
    const share = (part: number): number => (0.7 * (region + part)) / regionCount;
    distances.push(
      await distancesTo(parting, region, graph, OUTSIDE_CELLS * cellMm, (part) => cp.pause(share(part)), cp),
    );
  }
  const labels = new Int32Array(graph.count);
  const { areaVectors: n } = graph;
  const values: Float64Array[] = [];
  const mostMm = MOST_LEAD_CELLS * cellMm;
  for (let region = 0; region < regionCount; region++) {
    const lead = new Float64Array(graph.count);
    const { pull } = parting.pieces[region];
    for (let v = 0; v < graph.count; v++) {
      let otherMm = Infinity;
      for (let k = 0; k < regionCount; k++) {
        if (k !== region) otherMm = Math.min(otherMm, distances[k][v]);
      }
      const leadMm = Math.max(-mostMm, Math.min(mostMm, otherMm - distances[region][v]));
      const facing = n[3 * v] * pull[0] + n[3 * v + 1] * pull[1] + n[3 * v + 2] * pull[2];
      lead[v] = leadMm * graph.areas[v] + FACING_CELLS * cellMm * facing;
    }
    const from = 0.7 + (0.2 * region) / regionCount;
    values.push(
      await graph.spread(
        lead,
        SMOOTH_CELLS * cellMm,
        cp.within(from, from + 0.2 / regionCount, 'carrying the lines over the filler'),
      ),
    );
  }
  for (let v = 0; v < graph.count; v++) {
    if (!(graph.areas[v] > 0)) labels[v] = -1;
    for (let k = 1; k < regionCount; k++) {
      if (labels[v] >= 0 && values[k][v] > values[labels[v]][v]) labels[v] = k;
    }
  }
  absorbIslands(graph, labels, regionCount);
  const lines = linesBetween(after, graph, labels, values, regionCount, LEAST_LINE_CELLS * cellMm);
  return lines.length === parting.lines.length ? inFormerOrder(lines, parting) : null;
}

/** By vertex the distance from a little outside it to a region of the bare rubber, mm. */
async function distancesTo(
  { cut }: PartingStep,
  region: number,
  graph: SurfaceDiffusion,
  outsideMm: number,
  pause: (part: number) => Promise<void>,
  cp: Checkpoint,
): Promise<Float64Array> {
  const own: number[] = [];
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    if (cut.cutTriRegion[t] === region) own.push(...cut.indices.subarray(3 * t, 3 * t + 3));
  }
  const tree = new SurfaceTree({ positions: cut.positions, indices: Uint32Array.from(own) });
  const hit = newClosestPoint();
  const out = new Float64Array(graph.count);
  const { positions: p, areaVectors: n } = graph;
  for (let v = 0; v < graph.count; v++) {
    if (cp.due()) await pause(v / graph.count);
    const length = Math.hypot(n[3 * v], n[3 * v + 1], n[3 * v + 2]) || 1;
    const step = outsideMm / length;
    tree.closestPoint(
      p[3 * v] + step * n[3 * v],
      p[3 * v + 1] + step * n[3 * v + 1],
      p[3 * v + 2] + step * n[3 * v + 2],
      hit,
    );
    out[v] = hit.distance;
  }
  return out;
}

/** The new lines in the order, and with the ids, of the former ones that they lie nearest to; null when two claim one. */
function inFormerOrder(lines: readonly PartingLinePlan[], parting: PartingStep): PartingLinePlan[] | null {
  const out: (PartingLinePlan | undefined)[] = new Array(lines.length).fill(undefined);
  for (const line of lines) {
    let best = -1;
    let leastMm = Infinity;
    for (const [n, path] of parting.paths.entries()) {
      const mm = meanDistance(line.points, path.points);
      if (mm >= leastMm || parting.lines[n].closed !== line.closed) continue;
      leastMm = mm;
      best = n;
    }
    if (best < 0 || out[best]) return null;
    out[best] = { ...line, id: parting.lines[best].id };
  }
  return out.every((line) => line !== undefined) ? (out as PartingLinePlan[]) : null;
}

function meanDistance(points: readonly Vec3[], path: Float64Array): number {
  const step = Math.max(1, Math.floor(points.length / MATCH_POINTS));
  let sum = 0;
  let count = 0;
  for (let i = 0; i < points.length; i += step) {
    const [x, y, z] = points[i];
    let least = Infinity;
    for (let q = 0; q < path.length; q += 3) {
      least = Math.min(least, Math.hypot(path[q] - x, path[q + 1] - y, path[q + 2] - z));
    }
    sum += least;
    count++;
  }
  return sum / count;
}
