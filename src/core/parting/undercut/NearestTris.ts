import { closestOnTriangle } from '../../field/closestOnTriangle.ts';

/** Triangles of a leaf at most, unless their middles coincide. */
const LEAF_TRIS = 6;

/** Deeper than a tree of halved boxes ever gets: 2^64 times smaller than the body. */
const MOST_DEPTH = 64;

/** Where the nearest point is. */
export interface NearestTri {
  readonly point: Float64Array;
  tri: number;
  distance: number;
}

export const newNearestTri = (): NearestTri => ({ point: new Float64Array(3), tri: -1, distance: 0 });

/**
 * Exact nearest points on some of the triangles of a mesh, many times over: a tree of boxes in flat arrays that allocates
 * nothing while it is asked. Some three times as fast as the general tree, which is why it is there: a filler asks a
 * hundred thousand times.
 *
 * Cost: 40 ms to build for 100 000 triangles, 1 to 4 microseconds a question. Not for use by two callers at once.
 */
export class NearestTris {
  /** By node: box, min x y z then max x y z. */
  private readonly boxes: Float64Array;
  /** By node: the second child of a branch (the first follows it), or minus one less the first place of a leaf. */
  private readonly second: Int32Array;
  /** By node: number of triangles of a leaf, 0 for a branch. */
  private readonly sizes: Int32Array;
  private readonly order: Uint32Array;
  private nodeCount = 0;
  private readonly stack = new Int32Array(2 * MOST_DEPTH);
  private readonly stackFar2 = new Float64Array(2 * MOST_DEPTH);
  private readonly found = new Float64Array(4);

  /** @param tris numbers of the triangles to ask; kept as they are. At least one. */
  constructor(
    private readonly positions: Float64Array,
    private readonly indices: Uint32Array,
    tris: Uint32Array,
  ) {
    const count = tris.length;
    this.order = tris.slice();
    this.boxes = new Float64Array(12 * Math.max(1, count));
    this.second = new Int32Array(2 * Math.max(1, count));
    this.sizes = new Int32Array(2 * Math.max(1, count));
    const middles = new Float64Array(positions.length === 0 ? 0 : indices.length);
    for (const t of tris) {
      const a = 3 * indices[3 * t];
      const b = 3 * indices[3 * t + 1];
      const c = 3 * indices[3 * t + 2];
      for (let k = 0; k < 3; k++)
        middles[3 * t + k] = (positions[a + k] + positions[b + k] + positions[c + k]) / 3;
    }
    if (count > 0) this.build(0, count, middles, 0);
  }

  /** The nearest point, if it is no further than `reachMm`: then true and `out` filled, else false and `out` as it was. */
  closestWithin(x: number, y: number, z: number, reachMm: number, out: NearestTri): boolean {
    const { boxes, second, sizes, order, stack, stackFar2, found, positions, indices } = this;
    if (order.length === 0) return false;
    let best2 = reachMm * reachMm;
    let best = -1;
    let depth = 0;
    stack[0] = 0;
    stackFar2[0] = 0;
    depth = 1;
    while (depth > 0) {
      depth--;
      if (stackFar2[depth] > best2) continue;
      const node = stack[depth];
      const size = sizes[node];
      if (size > 0) {
        const start = -1 - second[node];
        for (let n = start; n < start + size; n++) {
          closestOnTriangle(positions, indices, order[n], x, y, z, found);
          if (found[3] > best2 || (found[3] === best2 && best >= 0)) continue;
          best2 = found[3];
          best = order[n];
          out.point[0] = found[0];
          out.point[1] = found[1];
          out.point[2] = found[2];
        }
        continue;
      }
      const a = node + 1;
      const b = second[node];
      const farA = boxFar2(boxes, 6 * a, x, y, z);
      const farB = boxFar2(boxes, 6 * b, x, y, z);
      // The nearer on top.
      const isFirstNearer = farA <= farB;
      const further2 = isFirstNearer ? farB : farA;
      if (further2 <= best2) {
        stack[depth] = isFirstNearer ? b : a;
        stackFar2[depth++] = further2;
      }
      const nearer2 = isFirstNearer ? farA : farB;
      if (nearer2 <= best2) {
        stack[depth] = isFirstNearer ? a : b;
        stackFar2[depth++] = nearer2;
      }
    }
    if (best < 0) return false;
    out.tri = best;
    out.distance = Math.sqrt(best2);
    return true;
  }

  /** Builds the node over order[start..end) and what is below it; returns its number. */
  private build(start: number, end: number, middles: Float64Array, depth: number): number {
    const { order, boxes } = this;
    const node = this.nodeCount++;
    this.writeBox(6 * node, start, end);
    if (end - start <= LEAF_TRIS || depth >= MOST_DEPTH - 1) return this.leaf(node, start, end);
    let axis = 0;
    for (let k = 1; k < 3; k++) {
      if (boxes[6 * node + 3 + k] - boxes[6 * node + k] > boxes[6 * node + 3 + axis] - boxes[6 * node + axis])
        axis = k;
    }
    // Halved at the mean of the middles: as many to either side, about, and never all to one unless they coincide.
    let mean = 0;
    for (let n = start; n < end; n++) mean += middles[3 * order[n] + axis];
    mean /= end - start;
    let split = start;
    for (let n = start; n < end; n++) {
      if (middles[3 * order[n] + axis] >= mean) continue;
      const keep = order[n];
      order[n] = order[split];
      order[split++] = keep;
    }
    if (split === start || split === end) return this.leaf(node, start, end);
    this.build(start, split, middles, depth + 1);
    const second = this.build(split, end, middles, depth + 1);
    this.second[node] = second;
    return node;
  }

  private leaf(node: number, start: number, end: number): number {
    this.second[node] = -1 - start;
    this.sizes[node] = end - start;
    return node;
  }

  private writeBox(at: number, start: number, end: number): void {
    const { boxes, order, positions, indices } = this;
    boxes.fill(Infinity, at, at + 3);
    boxes.fill(-Infinity, at + 3, at + 6);
    for (let n = start; n < end; n++) {
      for (let c = 0; c < 3; c++) {
        const p = 3 * indices[3 * order[n] + c];
        for (let k = 0; k < 3; k++) {
          const value = positions[p + k];
          if (value < boxes[at + k]) boxes[at + k] = value;
          if (value > boxes[at + 3 + k]) boxes[at + 3 + k] = value;
        }
      }
    }
  }
}

/** Square of the distance from x y z to the box at `at`. */
function boxFar2(boxes: Float64Array, at: number, x: number, y: number, z: number): number {
  const dx = x < boxes[at] ? boxes[at] - x : x > boxes[at + 3] ? x - boxes[at + 3] : 0;
  const dy = y < boxes[at + 1] ? boxes[at + 1] - y : y > boxes[at + 4] ? y - boxes[at + 4] : 0;
  const dz = z < boxes[at + 2] ? boxes[at + 2] - z : z > boxes[at + 5] ? z - boxes[at + 5] : 0;
  return dx * dx + dy * dy + dz * dz;
}
