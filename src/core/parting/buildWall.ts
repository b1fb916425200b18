import type { TriMesh } from '../mesh/TriMesh.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { LineChain } from './chainSegments.ts';
import type { CutSegments } from './types.ts';

/**
 * The parting face as a surface: rulings that stand on the lines along the rubber's normal, as shims do.
 * Its triangles are wound so that their normal points to the right-hand region.
 */
export interface PartingWall {
  readonly mesh: TriMesh;
  /** Per triangle of the wall: the regions to its left and right. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** Length of the rulings, mm. */
  readonly heightMm: number;
}

/** Ends this near to the board, as a share of the wall's height, stand on it. */
const ON_BOARD_SHARE = 1e-3;

/** Largest angle between two rulings of the fan that closes the gap between the last ruling and the board, radians. */
const FAN_STEP_RAD = Math.PI / 12;

/**
 * @param heightMm length of the rulings.
 * @param stepMm rulings no closer than this along a line; lines shorter than a step keep their ends.
 * @param windowMm the normal is averaged along this much of the line to either side: scan noise times the height would
 *   otherwise fray the face.
 */
export function buildWall(
  mesh: TriMesh,
  segments: CutSegments,
  chains: readonly LineChain[],
  standsOnBoard: boolean,
  heightMm: number,
  stepMm: number,
  windowMm: number,
): PartingWall {
  const positions: number[] = [];
  const indices: number[] = [];
  const left: number[] = [];
  const right: number[] = [];
  const addVert = (x: number, y: number, z: number): number => positions.push(x, y, z) / 3 - 1;
  const addTri = (chain: LineChain, a: number, b: number, c: number): void => {
    indices.push(a, b, c);
    left.push(chain.left);
    right.push(chain.right);
  };
  for (const chain of chains) {
    const rulings = pickRulings(chain, stepMm);
    const normals = smoothNormals(mesh, segments, chain, windowMm);
    let before: [number, number] | undefined;
    rulings.forEach((p, n) => {
      const x = chain.points[3 * p];
      const y = chain.points[3 * p + 1];
      const z = chain.points[3 * p + 2];
      const foot = addVert(x, y, z);
      const top = addVert(
        x + heightMm * normals[3 * p],
        y + heightMm * normals[3 * p + 1],
        z + heightMm * normals[3 * p + 2],
      );
      if (before) {
        addTri(chain, before[0], foot, top);
        addTri(chain, before[0], top, before[1]);
      }
      before = [foot, top];
      const isEnd = !chain.isClosed && (n === 0 || n === rulings.length - 1);
      if (standsOnBoard && isEnd && z < ON_BOARD_SHARE * heightMm) {
        addFan(chain, foot, top, n === 0, normals.subarray(3 * p, 3 * p + 3));
      }
    });
  }

  /** From the last ruling down to the board: there the rim itself is the nearest point, so the face goes on flat. */
  function addFan(chain: LineChain, foot: number, top: number, isStart: boolean, n: Float64Array): void {
    const flat = Math.hypot(n[0], n[1]);
    if (n[2] <= 0 || flat === 0) return;
    const tilt = Math.atan2(n[2], flat);
    const steps = Math.ceil(tilt / FAN_STEP_RAD);
    let last = top;
    for (let s = 1; s <= steps; s++) {
      const angle = tilt * (1 - s / steps);
      const across = (heightMm * Math.cos(angle)) / flat;
      const next = addVert(
        positions[3 * foot] + across * n[0],
        positions[3 * foot + 1] + across * n[1],
        positions[3 * foot + 2] + heightMm * Math.sin(angle),
      );
      if (isStart) addTri(chain, foot, last, next);
      else addTri(chain, foot, next, last);
      last = next;
    }
  }

  return {
    mesh: { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) },
    left: Int32Array.from(left),
    right: Int32Array.from(right),
    heightMm,
  };
}

/** Points of the chain at least a step apart, both ends among them. */
function pickRulings(chain: LineChain, stepMm: number): number[] {
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
function smoothNormals(
  mesh: TriMesh,
  segments: CutSegments,
  chain: LineChain,
  windowMm: number,
): Float64Array {
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
