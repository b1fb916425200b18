import type { Checkpoint } from '../../checkpoint.ts';
import { absorbIslands } from '../absorbIslands.ts';
import type { SurfaceDiffusion } from '../SurfaceDiffusion.ts';

/** Times the labels are spread and taken again. The last time nothing pulls at the line: it is only rounded. */
const ROUNDS = 2;
/** How much a vertex's costs weigh against the straightness of the line. A choice, held against real scans. */
const COST_WEIGHT = 0.8;
/** A vertex in an area without lines holds to its label as if it had so many times its area. */
const BARRED_WEIGHT = 4;

/**
 * Borders between labels straightened until a shim can follow them, in place: the labels are spread over the surface and
 * taken again (the threshold dynamics of Merriman, Bence & Osher 1992), with what the vertices cost as a force.
 *
 * @param costs of `tabulateCosts`, directions x vertices. @param pulls by label its direction.
 * @param isBarred by vertex: keeps its label. @param lengthMm bends of about this radius are rounded off.
 * @returns by label and vertex how strongly the vertex belongs to the label, the label's own the largest but where islands
 *   were absorbed; null when a label is smoothed away.
 */
export async function smoothBorders(
  graph: SurfaceDiffusion,
  labels: Int32Array,
  costs: Float32Array,
  pulls: readonly number[],
  isBarred: Uint8Array,
  lengthMm: number,
  cp: Checkpoint,
): Promise<Float64Array[] | null> {
  const { count, areas } = graph;
  const held = labels.slice();
  let values: Float64Array[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const weight = round < ROUNDS - 1 ? COST_WEIGHT : 0;
    const next: Float64Array[] = [];
    // Two labels need one field: the other is its negative.
    const fields = pulls.length === 2 ? 1 : pulls.length;
    for (let k = 0; k < fields; k++) {
      const right = new Float64Array(count);
      for (let v = 0; v < count; v++) {
        let rest = Infinity;
        for (let j = 0; j < pulls.length; j++) {
          if (j !== k) rest = Math.min(rest, costs[pulls[j] * count + v]);
        }
        const gain = rest - costs[pulls[k] * count + v];
        const force = weight * Math.max(-areas[v], Math.min(areas[v], gain));
        const own = labels[v] === k ? areas[v] : -areas[v];
        right[v] = isBarred[v] ? BARRED_WEIGHT * own : own + force;
      }
      next.push(await graph.spread(right, lengthMm, cp.within(0, 1, 'smoothing the lines')));
    }
    if (fields === 1) next.push(next[0].map((x) => -x));
    values = next;
    for (let v = 0; v < count; v++) {
      if (isBarred[v]) {
        labels[v] = held[v];
        continue;
      }
      let best = 0;
      for (let k = 1; k < pulls.length; k++) if (values[k][v] > values[best][v]) best = k;
      labels[v] = best;
    }
    absorbIslands(graph, labels, pulls.length);
    for (let k = 0; k < pulls.length; k++) if (!labels.includes(k)) return null;
  }
  return values;
}
