import type { TriMesh } from '../mesh/TriMesh.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { LineChain } from './chainSegments.ts';
import type { CutSegments } from './types.ts';

/** The parting wall's rulings along a line: where each stands on the surface, and its unit direction. n x 3 each. */
export interface Rulings {
  readonly feet: Float64Array;
  readonly normals: Float64Array;
}

/**
 * Rulings about `stepMm` apart along the line, both its ends among them, each along the rubber's normal averaged over
 * `windowMm` of the line to either side. On the rubber's large flats too, between the line's own points: round an edge the
 * rulings turn like a fan, and one alone at the edge would leave the fan's outer corners out.
 */
export function layRulings(
  mesh: TriMesh,
  segments: CutSegments,
  chain: LineChain,
  stepMm: number,
  windowMm: number,
): Rulings {
  const fine = divideLong(chain, stepMm);
  const picked = pickRulings(fine, stepMm);
  const smooth = smoothNormals(mesh, segments, fine, windowMm);
  const feet = new Float64Array(3 * picked.length);
  const normals = new Float64Array(3 * picked.length);
  picked.forEach((p, n) => {
    feet.set(fine.points.subarray(3 * p, 3 * p + 3), 3 * n);
    normals.set(smooth.subarray(3 * p, 3 * p + 3), 3 * n);
  });
  return { feet, normals };
}

/** Points of a line and the segment of the cut between each two, as in its chain. */
type Points = Pick<LineChain, 'points' | 'segments' | 'isClosed'>;

/** The chain with its segments that are longer than a step divided evenly. */
function divideLong(chain: LineChain, stepMm: number): Points {
  const points = [...chain.points.subarray(0, 3)];
  const segments: number[] = [];
  for (let p = 1; 3 * p < chain.points.length; p++) {
    const parts = Math.max(1, Math.ceil(distance(chain.points, p - 1, p) / stepMm));
    for (let n = 1; n <= parts; n++) {
      for (let k = 0; k < 3; k++) {
        const from = chain.points[3 * p - 3 + k];
        // The end itself, to the last bit.
        points.push(
          n === parts ? chain.points[3 * p + k] : from + (n / parts) * (chain.points[3 * p + k] - from),
        );
      }
      segments.push(chain.segments[p - 1]);
    }
  }
  return { points: Float64Array.from(points), segments: Int32Array.from(segments), isClosed: chain.isClosed };
}

/** Points of the chain at least a step apart, both ends among them. */
function pickRulings(chain: Points, stepMm: number): number[] {
  const { points } = chain;
  const count = points.length / 3;
  const picked = [0];
  let run = 0;
  for (let p = 1; p < count; p++) {
    run += distance(points, p - 1, p);
    if (p === count - 1) {
      // The last step may be short; drop its neighbour rather than make a sliver, unless only the ends are left.
      if (run < stepMm / 2 && picked.length > 1) picked.pop();
      picked.push(p);
    } else if (run >= stepMm) {
      picked.push(p);
      run = 0;
    }
  }
  return picked;
}

function distance(points: Float64Array, p: number, q: number): number {
  return Math.hypot(
    points[3 * q] - points[3 * p],
    points[3 * q + 1] - points[3 * p + 1],
    points[3 * q + 2] - points[3 * p + 2],
  );
}

/** Unit normal of the rubber at each point of the chain, averaged along the line by length. O(points x points in window). */
function smoothNormals(mesh: TriMesh, segments: CutSegments, chain: Points, windowMm: number): Float64Array {
  const { points } = chain;
  const count = points.length / 3;
  const arc = new Float64Array(count);
  const weighted = new Float64Array(3 * (count - 1));
  const scratch = new Float64Array(3);
  for (let p = 1; p < count; p++) {
    const length = distance(points, p - 1, p);
    arc[p] = arc[p - 1] + length;
    addNormal(mesh, segments.tri[chain.segments[p - 1]], length, weighted, 3 * (p - 1), scratch);
  }
  const normals = new Float64Array(3 * count);
  const segmentCount = count - 1;
  for (let p = 0; p < count; p++) {
    let x = 0;
    let y = 0;
    let z = 0;
    const add = (s: number): void => {
      x += weighted[3 * s];
      y += weighted[3 * s + 1];
      z += weighted[3 * s + 2];
    };
    for (let back = 0; back < segmentCount; back++) {
      const s = p - 1 - back;
      if (s < 0 && !chain.isClosed) break;
      const wrapped = (s + segmentCount) % segmentCount;
      add(wrapped);
      const gone = s >= 0 ? arc[p] - arc[s] : arc[p] + arc[count - 1] - arc[wrapped];
      if (gone >= windowMm) break;
    }
    for (let ahead = 0; ahead < segmentCount; ahead++) {
      const s = p + ahead;
      if (s >= segmentCount && !chain.isClosed) break;
      const wrapped = s % segmentCount;
      add(wrapped);
      const gone = s < segmentCount ? arc[s + 1] - arc[p] : arc[count - 1] - arc[p] + arc[wrapped + 1];
      if (gone >= windowMm) break;
    }
    const length = Math.hypot(x, y, z) || 1;
    normals[3 * p] = x / length;
    normals[3 * p + 1] = y / length;
    normals[3 * p + 2] = z / length;
  }
  return normals;
}

/** Adds the triangle's unit normal times a weight; `scratch` holds three numbers. */
function addNormal(
  mesh: TriMesh,
  tri: number,
  weight: number,
  out: Float64Array,
  at: number,
  scratch: Float64Array,
): void {
  const scale = weight / (writeTriNormal(mesh, tri, scratch) || 1);
  for (let k = 0; k < 3; k++) out[at + k] += scratch[k] * scale;
}
