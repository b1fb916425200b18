import { placeThird } from './placeThird.ts';
import { nextHalf, previousHalf, type SurfaceContext, type SurfacePoint } from './SurfaceContext.ts';
import { searchStrip } from './searchStrip.ts';

/** Shots at most. On smooth surfaces five or six do; on rough ones more would not help. */
const MOST_SHOTS = 12;
/** The first try to either side, and the most that the aim is moved between two shots, radians. */
const FIRST_TURN_RAD = 0.02;
const MOST_TURN_RAD = 0.6;
/**
 * A shot that passes the goal within this share of its length is good. So near because between points nearly opposite each other
 * a large error of the aim makes a small miss.
 */
const NEAR_SHARE = 1e-6;

/** A walk ends where it passes the goal, but between these shares of the length that it was thought to take. */
const LEAST_LENGTH = 0.8;
const MOST_LENGTH = 1.1;

/** Where a straight walk ended. */
interface Shot {
  readonly tris: number[];
  readonly end: SurfacePoint;
  /** How far the goal lies to the left of the walk's end, mm. */
  readonly missMm: number;
}

/**
 * A strip for the way from `start` to `end`, found by walking straight on from the start and turning the aim until the walk
 * passes the goal: the shooting method for geodesics as two-point problems, with the secant rule; walking straight over
 * edges is K. Polthier & M. Schmies (1998), "Straightest geodesics on polyhedral surfaces". It finds at once what shortening
 * creeps up to: ways between points nearly opposite on a round body, where many ways are all but equally long.
 *
 * @param lengthMm about how far it is. @param angleRad first aim, in the plane of triangle `start.tri` with its first corner at the
 *   origin and its second on the x axis.
 * @returns null where the walk runs over a border, or no shot came nearer to the goal than a quarter of its length.
 * Limits: on rough surfaces walks scatter and the result may be useless; the caller keeps it only if it is shorter. O(triangles
 * walked) a shot.
 */
export function shootStrip(
  surface: SurfaceContext,
  start: SurfacePoint,
  end: SurfacePoint,
  lengthMm: number,
  angleRad: number,
): number[] | null {
  let angle = angleRad;
  let shot = walkStraight(surface, start, end, lengthMm, angle);
  if (shot === null) return null;
  let best = shot;
  let lastAngle = angle;
  let lastMiss = shot.missMm;
  angle += Math.sign(lastMiss) * FIRST_TURN_RAD;
  for (let n = 1; n < MOST_SHOTS && Math.abs(best.missMm) > NEAR_SHARE * lengthMm; n++) {
    shot = walkStraight(surface, start, end, lengthMm, angle);
    if (shot === null) break;
    const { missMm } = shot;
    if (Math.abs(missMm) < Math.abs(best.missMm)) best = shot;
    const slope = (missMm - lastMiss) / (angle - lastAngle);
    if (!(Math.abs(slope) > 0)) break;
    const turn = Math.max(-MOST_TURN_RAD, Math.min(MOST_TURN_RAD, -missMm / slope));
    lastAngle = angle;
    lastMiss = missMm;
    angle += turn;
  }
  if (Math.abs(best.missMm) > 0.25 * lengthMm) return null;
  const rest = searchStrip(surface, best.end, end);
  if (rest === null) return null;
  return best.tris.concat(rest.slice(1));
}

/** Straight on from the start until it passes the goal, about `lengthMm` on, triangle by triangle laid flat; null where S ends before. */
function walkStraight(
  surface: SurfaceContext,
  start: SurfacePoint,
  goal: SurfacePoint,
  lengthMm: number,
  angleRad: number,
): Shot | null {
  const { positions: p, indices, links } = surface;
  const flat = new Float64Array(2);
  const t0 = start.tri;
  const i = 3 * indices[3 * t0];
  const j = 3 * indices[3 * t0 + 1];
  const k = 3 * indices[3 * t0 + 2];
  placeThird(p, i, j, k, flat);
  const xs = [
    0,
    Math.sqrt((p[j] - p[i]) ** 2 + (p[j + 1] - p[i + 1]) ** 2 + (p[j + 2] - p[i + 2]) ** 2),
    flat[0],
  ];
  const ys = [0, 0, flat[1]];
  // A start on the border of its triangle is moved in by a hair: the strip is only a first guess.
  const inward = 1e-4;
  const w = [start.b0, start.b1, start.b2].map((b) => (1 - inward) * b + inward / 3);
  const sx = w[0] * xs[0] + w[1] * xs[1] + w[2] * xs[2];
  const sy = w[0] * ys[0] + w[1] * ys[1] + w[2] * ys[2];
  const dx = Math.cos(angleRad);
  const dy = Math.sin(angleRad);
  let exit = -1;
  let rx = 0;
  let ry = 0;
  let lx = 0;
  let ly = 0;
  for (let c = 0; c < 3; c++) {
    const n = (c + 1) % 3;
    const isRight = dx * (ys[c] - sy) - dy * (xs[c] - sx) <= 0;
    const isLeft = dx * (ys[n] - sy) - dy * (xs[n] - sx) > 0;
    if (!isRight || !isLeft) continue;
    exit = 3 * t0 + c;
    rx = xs[c];
    ry = ys[c];
    lx = xs[n];
    ly = ys[n];
  }
  if (exit < 0) return null;
  const tris = [t0];
  let lastGoal2 = Infinity;
  for (let n = 0; n < surface.triCount; n++) {
    const over = links[exit];
    if (over < 0) return null;
    const ex = rx - lx;
    const ey = ry - ly;
    const len = Math.sqrt(ex * ex + ey * ey);
    const along = ((lx - sx) * ey - (ly - sy) * ex) / (dx * ey - dy * ex);
    tris.push((over / 3) | 0);
    let isPast = !(len > 0) || along >= MOST_LENGTH * lengthMm;
    if (along >= LEAST_LENGTH * lengthMm) {
      // Once the goal is no longer coming nearer, the walk passes it.
      const right = dx * (ry - sy) - dy * (rx - sx);
      const left = dx * (ly - sy) - dy * (lx - sx);
      const share = left > right ? left / (left - right) : 0;
      const a = 3 * indices[over];
      const b = 3 * indices[nextHalf(over)];
      const x = p[a] + share * (p[b] - p[a]) - goal.x;
      const y = p[a + 1] + share * (p[b + 1] - p[a + 1]) - goal.y;
      const z = p[a + 2] + share * (p[b + 2] - p[a + 2]) - goal.z;
      const goal2 = x * x + y * y + z * z;
      isPast ||= goal2 > lastGoal2;
      lastGoal2 = goal2;
    }
    if (isPast) return endShot(surface, goal, tris, over, { rx, ry, lx, ly, sx, sy, dx, dy });
    const apex = previousHalf(over);
    placeThird(p, 3 * indices[over], 3 * indices[nextHalf(over)], 3 * indices[apex], flat);
    const ux = ex / len;
    const uy = ey / len;
    const ax = lx + flat[0] * ux - flat[1] * uy;
    const ay = ly + flat[0] * uy + flat[1] * ux;
    if (dx * (ay - sy) - dy * (ax - sx) > 0) {
      exit = nextHalf(over);
      lx = ax;
      ly = ay;
    } else {
      exit = apex;
      rx = ax;
      ry = ay;
    }
  }
  return null;
}

interface FlatWalk {
  readonly rx: number;
  readonly ry: number;
  readonly lx: number;
  readonly ly: number;
  readonly sx: number;
  readonly sy: number;
  readonly dx: number;
  readonly dy: number;
}

/** The walk's end on the edge it last crossed, and how far to its left the goal lies. */
function endShot(
  surface: SurfaceContext,
  goal: SurfacePoint,
  tris: number[],
  over: number,
  { rx, ry, lx, ly, sx, sy, dx, dy }: FlatWalk,
): Shot {
  const { positions: p, indices } = surface;
  const right = dx * (ry - sy) - dy * (rx - sx);
  const left = dx * (ly - sy) - dy * (lx - sx);
  const share = left > right ? Math.min(1, Math.max(0, left / (left - right))) : 0;
  // `over` runs from the left point to the right one, in the triangle just entered.
  const a = 3 * indices[over];
  const b = 3 * indices[nextHalf(over)];
  const c = 3 * indices[previousHalf(over)];
  const e = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const f = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const normal = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
  const long = Math.hypot(e[0], e[1], e[2]) || 1;
  const high = Math.hypot(normal[0], normal[1], normal[2]) || 1;
  // Forward and left in space, by the edge and what is square to it towards the apex.
  const ahead = [
    (normal[1] * e[2] - normal[2] * e[1]) / (high * long),
    (normal[2] * e[0] - normal[0] * e[2]) / (high * long),
    (normal[0] * e[1] - normal[1] * e[0]) / (high * long),
  ];
  const flatLong = Math.hypot(rx - lx, ry - ly) || 1;
  const ux = (rx - lx) / flatLong;
  const uy = (ry - ly) / flatLong;
  const alongEdge = dx * ux + dy * uy;
  const alongAhead = -dx * uy + dy * ux;
  const weights = [0, 0, 0];
  weights[over % 3] = 1 - share;
  weights[(over + 1) % 3] = share;
  const end = surface.pointFromWeights((over / 3) | 0, weights[0], weights[1], weights[2]);
  const toGoal = [goal.x - end.x, goal.y - end.y, goal.z - end.z];
  let missMm = 0;
  for (let m = 0; m < 3; m++) missMm += toGoal[m] * (alongEdge * ahead[m] - (alongAhead * e[m]) / long);
  return { tris, end, missMm };
}
