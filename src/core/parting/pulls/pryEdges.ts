import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { LineChain } from '../chainSegments.ts';

/** A line about which a piece may be tipped. */
export interface PryEdge {
  readonly pointMm: Vec3;
  /** Unit vector. */
  readonly direction: Vec3;
  /** As a mould-maker would call it: "the foot", "the line to B on the left". */
  readonly name: string;
  /** How far the piece moves along the edge while it turns, mm a radian: 0 for an edge, else the thread of a screw. */
  readonly pitchMm: number;
}

export interface PryEdgesInput {
  /** Corners of the piece's faces, n x 3, mm. */
  readonly points: Float64Array;
  readonly region: number;
  readonly chains: readonly LineChain[];
  /** Names of the pieces, by region. */
  readonly names: readonly string[];
  /** Unit vector. */
  readonly pull: Vec3;
  /** How thick the shell is there, mm: the edges are its outer ones. */
  readonly shellMm: number;
  readonly standsOnBoard: boolean;
}

/** A pull steeper than this has no side to be tipped to: the edges are then taken all round. */
const LEAST_LEVEL = 0.3;
/** Points within this share of the piece's height count to its foot. */
const FOOT_SHARE = 0.02;
/** A line whose ends are nearer together than this share of its length is taken as closed. */
const CLOSED_SHARE = 0.2;

/**
 * The edges about which a piece may be tipped: where its shell stands on the board and its top, square to the pull; the
 * lines to its neighbours; of closed lines, and for pulls that go up, the edges on four sides.
 */
export function pryEdges(input: PryEdgesInput): PryEdge[] {
  const { points, region, chains, names, pull, shellMm, standsOnBoard } = input;
  if (points.length === 0) return [];
  const edges: PryEdge[] = [];
  const level = Math.hypot(pull[0], pull[1]);
  const isSteep = level < LEAST_LEVEL;
  // As seen by someone who stands where the piece comes to; by the x axis where it comes up.
  const out: Vec3 = isSteep ? [0, -1, 0] : [pull[0] / level, pull[1] / level, 0];
  const right: Vec3 = [-out[1], out[0], 0];
  const add = (name: string, at: Vec3, direction: Vec3): void => {
    edges.push({ pointMm: at, direction, name, pitchMm: 0 });
  };
  const foot = standsOnBoard ? lowest(points) : new Float64Array(0);
  if (isSteep) {
    if (foot.length > 0) addSides(add, 'the foot', foot, out, right, shellMm);
  } else {
    if (foot.length > 0) add('the foot', beyond(foot, out, shellMm), right);
    add('the top edge', beyond(points, [0, 0, 1], shellMm), right);
  }
  const middle = meanOf(points);
  for (const chain of chains) {
    if (chain.left !== region && chain.right !== region) continue;
    const other = names[chain.left === region ? chain.right : chain.left];
    const line = `the line to ${other}`;
    const p = chain.points;
    const n = p.length;
    const ends: Vec3 = [p[n - 3] - p[0], p[n - 2] - p[1], p[n - 1] - p[2]];
    const apart = Math.hypot(...ends);
    if (chain.isClosed || apart < CLOSED_SHARE * chain.lengthMm) {
      addSides(add, line, p, isSteep ? out : [0, 0, 1], right, 0);
      continue;
    }
    const at = meanOf(p);
    const aside = dot(at, right) - dot(middle, right);
    const side = Math.abs(ends[2]) < 0.5 * apart ? '' : aside < 0 ? ' on the left' : ' on the right';
    add(line + side, at, [ends[0] / apart, ends[1] / apart, ends[2] / apart]);
  }
  return edges;
}

/** The four edges of a closed line: `near` and its opposite, left and right. */
function addSides(
  add: (name: string, at: Vec3, direction: Vec3) => void,
  name: string,
  points: Float64Array,
  near: Vec3,
  right: Vec3,
  shellMm: number,
): void {
  const [nearName, farName] = near[2] === 0 ? ['in front', 'behind'] : ['at the top', 'at the bottom'];
  const left: Vec3 = [-right[0], -right[1], 0];
  const far: Vec3 = [-near[0], -near[1], -near[2]];
  add(`${name} ${nearName}`, beyond(points, near, shellMm), right);
  add(`${name} ${farName}`, beyond(points, far, shellMm), right);
  add(`${name} on the left`, beyond(points, left, shellMm), near);
  add(`${name} on the right`, beyond(points, right, shellMm), near);
}

/** The middle of the points, moved along a direction to where the last of them ends and `moreMm` on. */
function beyond(points: Float64Array, along: Vec3, moreMm: number): Vec3 {
  const middle = meanOf(points);
  let most = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    most = Math.max(most, points[i] * along[0] + points[i + 1] * along[1] + points[i + 2] * along[2]);
  }
  const by = most + moreMm - dot(middle, along);
  return [middle[0] + by * along[0], middle[1] + by * along[1], middle[2] + by * along[2]];
}

/** The points that stand on the board, set to z = 0; none when the piece does not reach down to it. */
function lowest(points: Float64Array): Float64Array {
  let high = 0;
  for (let i = 2; i < points.length; i += 3) high = Math.max(high, points[i]);
  const on: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    if (points[i + 2] <= FOOT_SHARE * high) on.push(points[i], points[i + 1], 0);
  }
  return Float64Array.from(on);
}

function meanOf(points: Float64Array): Vec3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < points.length; i++) sum[i % 3] += points[i];
  const n = points.length / 3;
  return [sum[0] / n, sum[1] / n, sum[2] / n];
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
