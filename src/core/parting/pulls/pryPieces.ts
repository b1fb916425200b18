import type { Checkpoint } from '../../checkpoint.ts';
import type { TriMesh, Vec3 } from '../../mesh/TriMesh.ts';
import type { PryingResult, PullsResult } from '../../PlanResult.ts';
import { SurfaceTree } from '../../spatial/SurfaceTree.ts';
import type { LineChain } from '../chainSegments.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { asTwist, type ContactVectors, contactVectors } from './contactTwists.ts';
import { type FaceMeasures, measureFaces } from './FaceMeasures.ts';
import { leastClosing } from './leastClosing.ts';
import { minNormPoint } from './minNormPoint.ts';
import { type PryEdge, pryEdges } from './pryEdges.ts';
import { RubberDepth } from './RubberDepth.ts';

/** Angles of turn tried one after the other, degrees: what wedges under an edge can give a shell. */
const TURNS_DEG = [1, 2, 4, 6, 8, 10];
/** Every edge is tried as far as this, so that what they meet can be compared. */
const COMPARE_DEG = 4;
/** Points of the piece that are turned. */
const SAMPLES = 400;
/**
 * Contacts that close no faster than this are said to slide: the sine of a degree, about what the facets of a simplified
 * surface lie off its true tangents.
 */
const SLIDE_SPEED = 0.0175;
/** A twist that turns a point at the piece's own size by less than this share of its shift is a straight slide. */
const LEAST_TURN = 0.1;

export interface PryInput {
  /** The simple surface: what stands in the way, and on which the labels are. Every triangle belongs to S. */
  readonly surface: SurfaceContext;
  /** By its face the region, or -1. */
  readonly labels: Int32Array;
  readonly chains: readonly LineChain[];
  /** Names of the pieces as they are to be called, present pulls, and what bestPulls found; by region. */
  readonly names: readonly string[];
  readonly pulls: readonly Vec3[];
  readonly found: readonly PullsResult[];
  /** How far the rubber yields, mm. */
  readonly giveMm: number;
  /** What the raster of the pulls cannot tell from nothing, mm (FaceSweep.pixelMm). */
  readonly pixelMm: number;
  /** Outer distance of the shell, mm. */
  readonly shellMm: number;
}

/**
 * Whether a small turn frees each piece where no straight pull does.
 *
 * 'pull': a straight pull clears it, and nothing is turned. 'turn': turned by up to 10 degrees about an edge (or the axis of
 * the twist that its contacts close least under), points of its inner face meet rubber no deeper than it yields, and from there a
 * straight pull clears it; the edge with the least turn, then the least depth. 'slide': it can move along itself, as a plug in a
 * ring groove does, but that does not take it off. 'locked': nothing small moves it; `worstMm` is then what the least bad edge meets
 * in 4 degrees.
 *
 * Samples: 400 points spread over each piece's inner face; depth to the nearest surface, side by the
 * angle-weighted normal; the way out by rays from points set off by what the rubber yields. Only rubber and board stand in
 * the way; the shell's own thickness beyond the inner face is not tried. Cost: 10 to 20 ms an edge and angle; cancels at
 * its checkpoint.
 */
export async function pryPieces(input: PryInput, cp: Checkpoint): Promise<PryingResult[]> {
  const { surface, found, giveMm, pixelMm } = input;
  const results: PryingResult[] = [];
  const clearMm = Math.max(giveMm, pixelMm);
  let bench: PryBench | null = null;
  for (let region = 0; region < found.length; region++) {
    await cp.pause(region / found.length);
    const { best, clearing } = found[region];
    if (best.maxDepthMm <= clearMm || clearing.length > 0) {
      results.push({ frees: 'pull', axis: null, worstMm: best.maxDepthMm, turnDeg: 0 });
      continue;
    }
    bench ??= new PryBench(surface, clearMm);
    results.push(
      await pryPiece(
        input,
        bench,
        region,
        cp.within(region / found.length, (region + 1) / found.length, 'prying'),
      ),
    );
  }
  await cp.pause(1);
  return results;
}

async function pryPiece(
  input: PryInput,
  bench: PryBench,
  region: number,
  cp: Checkpoint,
): Promise<PryingResult> {
  const { surface, labels, found, pulls } = input;
  const samples = pickSamples(surface.scan.mesh, bench.faces, labels, region);
  const contacts = contactVectors(
    bench.faces.middles,
    bench.faces.normals,
    bench.faces.areaMm2,
    (t) => labels[t] === region,
  );
  if (samples.points.length === 0) return { frees: 'locked', axis: null, worstMm: 0, turnDeg: 0 };
  const least = leastClosing(contacts.vectors);
  const twistEdge = edgeOfTwist(least.twist, contacts);
  const free = minNormPoint(contacts.vectors, 6);
  const freeEdge = free.norm > 0 ? edgeOfTwist(free.point, contacts) : null;
  const edges = pryEdges({
    points: cornersOf(surface, labels, region),
    region,
    chains: input.chains,
    names: input.names,
    pull: unit(pulls[region]),
    shellMm: input.shellMm,
    standsOnBoard: surface.standsOnBoard,
  });
  if (freeEdge) edges.push(freeEdge);
  if (twistEdge) edges.push(twistEdge);
  const ways = [found[region].best.pull, unit(pulls[region]), meanNormal(samples)];

  let turn: PryingResult | null = null;
  let leastMm = Infinity;
  for (let e = 0; e < edges.length; e++) {
    for (const sense of [1, -1]) {
      if (cp.due()) await cp.pause(e / edges.length);
      const tried = bench.turnAbout(edges[e], sense, samples, ways);
      leastMm = Math.min(leastMm, tried.comparedMm);
      if (tried.freeAtDeg === null) continue;
      const isBetter =
        turn === null ||
        tried.freeAtDeg < turn.turnDeg ||
        (tried.freeAtDeg === turn.turnDeg && tried.worstMm < turn.worstMm);
      if (!isBetter) continue;
      turn = {
        frees: 'turn',
        axis: axisOf(edges[e]),
        worstMm: tried.worstMm,
        turnDeg: tried.freeAtDeg,
      };
    }
  }
  if (turn) return turn;
  if (least.opening > -SLIDE_SPEED) {
    const slid = twistEdge
      ? Math.min(
          bench.turnAbout(twistEdge, 1, samples, []).comparedMm,
          bench.turnAbout(twistEdge, -1, samples, []).comparedMm,
        )
      : bench.shiftBy(least.twist, contacts, samples);
    if (slid <= bench.clearMm) {
      return {
        frees: 'slide',
        axis: twistEdge ? axisOf(twistEdge) : null,
        worstMm: slid,
        turnDeg: twistEdge ? COMPARE_DEG : 0,
      };
    }
  }
  return {
    frees: 'locked',
    axis: null,
    worstMm: Number.isFinite(leastMm) ? leastMm : 0,
    turnDeg: COMPARE_DEG,
  };
}

/** Points of a piece's inner face with the unit normals there, n x 3 each. */
interface Samples {
  readonly points: Float64Array;
  readonly normals: Float64Array;
}

interface TurnTried {
  /** The least angle from which a straight pull clears the piece, or null. */
  readonly freeAtDeg: number | null;
  /** Deepest in rubber on the way to it. */
  readonly worstMm: number;
  /** Deepest in rubber within COMPARE_DEG. */
  readonly comparedMm: number;
}

/** The rubber, ready to be asked what a moved piece meets. */
class PryBench {
  readonly faces: FaceMeasures;
  private readonly depth: RubberDepth;
  private readonly tree: SurfaceTree;
  private readonly standsOnBoard: boolean;

  constructor(
    surface: SurfaceContext,
    readonly clearMm: number,
  ) {
    this.faces = measureFaces(surface.scan.mesh);
    this.depth = new RubberDepth(surface);
    this.tree = new SurfaceTree(surface.scan.mesh);
    this.standsOnBoard = surface.standsOnBoard;
  }

  /** Turns the points step by step, right-handed about the edge times `sense`, as far as the rubber lets them. */
  turnAbout(edge: PryEdge, sense: number, samples: Samples, ways: readonly Vec3[]): TurnTried {
    let worstMm = 0;
    let comparedMm = 0;
    for (const turnDeg of TURNS_DEG) {
      const angle = (sense * turnDeg * Math.PI) / 180;
      const moved: Samples = {
        points: turnPoints(samples.points, edge, angle, true),
        normals: turnPoints(samples.normals, edge, angle, false),
      };
      worstMm = Math.max(worstMm, this.deepest(moved.points));
      if (turnDeg <= COMPARE_DEG) comparedMm = worstMm;
      if (worstMm > this.clearMm) {
        if (turnDeg >= COMPARE_DEG) break;
        continue;
      }
      for (const way of ways) {
        // As it was, turned with the piece, and halfway, which is where a bend that is left by degrees points.
        for (const share of [0, 0.5, 1]) {
          const [x, y, z] = turnPoints(Float64Array.from(way), edge, share * angle, false);
          if (this.isWayOut(moved, [x, y, z])) return { freeAtDeg: turnDeg, worstMm, comparedMm };
        }
      }
    }
    return { freeAtDeg: null, worstMm, comparedMm };
  }

  /** Deepest in rubber when a piece shifts as a twist without turn does, by as much as COMPARE_DEG would move its size. */
  shiftBy(twist: ArrayLike<number>, { scaleMm }: ContactVectors, { points }: Samples): number {
    const by = (scaleMm * COMPARE_DEG * Math.PI) / 180 / Math.hypot(twist[3], twist[4], twist[5]);
    return this.deepest(points.map((x, i) => x + by * twist[3 + (i % 3)]));
  }

  /** Greatest depth of the points inside rubber or board, mm; 0 when all are outside. */
  private deepest(points: Float64Array): number {
    let most = 0;
    for (let i = 0; i < points.length; i += 3) {
      if (this.standsOnBoard && -points[i + 2] > most) most = -points[i + 2];
      const depth = this.depth.at([points[i], points[i + 1], points[i + 2]]);
      if (depth > most) most = depth;
    }
    return most;
  }

  /** Whether all points get away along `way`, once the rubber has yielded. */
  private isWayOut({ points, normals }: Samples, way: Vec3): boolean {
    if (this.standsOnBoard && way[2] < 0) return false;
    for (let i = 0; i < points.length; i += 3) {
      const from: Vec3 = [
        points[i] + this.clearMm * normals[i],
        points[i + 1] + this.clearMm * normals[i + 1],
        points[i + 2] + this.clearMm * normals[i + 2],
      ];
      if (this.tree.firstHit(from, way) !== null) return false;
    }
    return true;
  }
}

/** Points (or, with `isPlaced` off, vectors) turned about an edge, right-handed, and moved along it by its pitch. */
function turnPoints(points: Float64Array, edge: PryEdge, angleRad: number, isPlaced: boolean): Float64Array {
  const [ax, ay, az] = edge.direction;
  const [px, py, pz] = isPlaced ? edge.pointMm : [0, 0, 0];
  const along = isPlaced ? edge.pitchMm * angleRad : 0;
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    const x = points[i] - px;
    const y = points[i + 1] - py;
    const z = points[i + 2] - pz;
    // Rodrigues' formula.
    const m = (ax * x + ay * y + az * z) * (1 - c);
    out[i] = c * x + s * (ay * z - az * y) + m * ax + px + along * ax;
    out[i + 1] = c * y + s * (az * x - ax * z) + m * ay + py + along * ay;
    out[i + 2] = c * z + s * (ax * y - ay * x) + m * az + pz + along * az;
  }
  return out;
}

/**
 * Points spread evenly over the region: one for each like share of its area, within its face where the next of the R2 sequence
 * falls (M. Roberts, The Unreasonable Effectiveness of Quasirandom Sequences, 2018; constants from memory).
 */
function pickSamples(
  mesh: TriMesh,
  { normals, areaMm2 }: FaceMeasures,
  labels: Int32Array,
  region: number,
): Samples {
  const { positions: p, indices } = mesh;
  let whole = 0;
  for (let t = 0; t < labels.length; t++) if (labels[t] === region) whole += areaMm2[t];
  const points: number[] = [];
  const own: number[] = [];
  let gone = 0;
  for (let t = 0; t < labels.length; t++) {
    if (labels[t] !== region) continue;
    gone += areaMm2[t];
    for (let n = points.length / 3; (n + 0.5) * whole < gone * SAMPLES; n++) {
      let b = (0.5 + 0.7548776662466927 * n) % 1;
      let c = (0.5 + 0.5698402909980532 * n) % 1;
      if (b + c > 1) {
        b = 1 - b;
        c = 1 - c;
      }
      for (let k = 0; k < 3; k++) {
        const from = p[3 * indices[3 * t] + k];
        points.push(
          from + b * (p[3 * indices[3 * t + 1] + k] - from) + c * (p[3 * indices[3 * t + 2] + k] - from),
        );
        own.push(normals[3 * t + k]);
      }
    }
  }
  return { points: Float64Array.from(points), normals: Float64Array.from(own) };
}

function cornersOf(surface: SurfaceContext, labels: Int32Array, region: number): Float64Array {
  const { positions: p, indices } = surface;
  const isUsed = new Uint8Array(p.length / 3);
  for (let h = 0; h < indices.length; h++) if (labels[(h / 3) | 0] === region) isUsed[indices[h]] = 1;
  const out: number[] = [];
  for (let v = 0; v < isUsed.length; v++) if (isUsed[v]) out.push(p[3 * v], p[3 * v + 1], p[3 * v + 2]);
  return Float64Array.from(out);
}

/** The axis that a twist turns about, with its thread; null when it hardly turns. */
function edgeOfTwist(six: ArrayLike<number>, contacts: ContactVectors): PryEdge | null {
  const { turn, shiftMm, originMm } = asTwist(six, contacts);
  const rate = Math.hypot(...turn);
  if (!(rate * contacts.scaleMm > LEAST_TURN * Math.hypot(...shiftMm)) || rate === 0) return null;
  const square = rate * rate;
  const pitch = (turn[0] * shiftMm[0] + turn[1] * shiftMm[1] + turn[2] * shiftMm[2]) / square;
  return {
    pointMm: [
      originMm[0] + (turn[1] * shiftMm[2] - turn[2] * shiftMm[1]) / square,
      originMm[1] + (turn[2] * shiftMm[0] - turn[0] * shiftMm[2]) / square,
      originMm[2] + (turn[0] * shiftMm[1] - turn[1] * shiftMm[0]) / square,
    ],
    direction: [turn[0] / rate, turn[1] / rate, turn[2] / rate],
    name: 'an axis through the piece',
    pitchMm: pitch,
  };
}

function meanNormal({ normals }: Samples): Vec3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < normals.length; i++) sum[i % 3] += normals[i];
  return Math.hypot(...sum) > 0 ? unit([sum[0], sum[1], sum[2]]) : [0, 0, 1];
}

function unit(v: Vec3): Vec3 {
  const length = Math.hypot(...v);
  return [v[0] / length, v[1] / length, v[2] / length];
}

const axisOf = ({ pointMm, direction, name }: PryEdge): NonNullable<PryingResult['axis']> => ({
  pointMm,
  direction,
  name,
});
