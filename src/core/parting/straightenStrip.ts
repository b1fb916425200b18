import { placeThird } from './placeThird.ts';
import {
  nextHalf,
  previousHalf,
  SNAP_SHARE,
  type SurfaceContext,
  type SurfacePoint,
} from './SurfaceContext.ts';
import { shootStrip } from './shootStrip.ts';

/** More passes than any real line needs (each takes the line one ring of triangles nearer to straight). */
const MOST_PASSES = 2000;
/** A way that is not straight after so many passes is one that shortening only creeps up to: it is tried by shooting, once. */
const SHOOT_PASS = 12;
/** A bend whose other side is open by less than half a turn minus this can be shortened; keeps rounding from flipping it to and fro. */
const STRAIGHT_RAD = 1e-9;

/** A way through triangles: points n x 3 flat, per point the vertex it lies on or -1, and for each of the n - 1 segments its triangle. */
export interface TrianglePath {
  readonly points: number[];
  readonly verts: number[];
  readonly tris: number[];
}

/**
 * The locally shortest way from `start` to `end` near a strip of triangles (first holds `start`, last holds `end`).
 *
 * The strip is unfolded into the plane and the shortest way inside it found by the funnel (Lee & Preparata 1984). Where
 * that way bends round a vertex whose other side is open by less than half a turn, the strip is led round the other
 * side and unfolded again (own wording of the step in Xin & Wang, "Efficiently determining a locally exact shortest path
 * on polyhedral surfaces", 2007; the same criterion as the edge flips of Sharp & Crane, "You can find geodesic paths in
 * triangle meshes by just flipping edges", 2020). It ends when no bend can be shortened: straight over edges, and at
 * least half a turn to either side of every vertex it passes. What is not straight after SHOOT_PASS passes is aimed by
 * `shootStrip` once, which may lead it past a limb on the other side if that is shorter. Crossings within SNAP_SHARE of a vertex are put on it.
 */
export function straightenStrip(
  surface: SurfaceContext,
  strip: readonly number[],
  start: SurfacePoint,
  end: SurfacePoint,
): TrianglePath {
  let tris = trimStrip(surface, removeLoops(surface, strip), start, end);
  let unfolded = unfoldStrip(surface, tris, start, end);
  let bends = pullTight(unfolded);
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    if (pass === SHOOT_PASS) {
      // Straight on, and the other way round: past the point opposite, the shorter way leaves on the other side.
      const aim = firstAngle(unfolded, bends);
      for (const angle of [aim, aim + Math.PI]) {
        const shot = shootStrip(surface, pointIn(surface, tris[0], start), end, bends.length, angle);
        if (shot === null) continue;
        const aimed = trimStrip(surface, removeLoops(surface, shot), start, end);
        const aimedUnfolded = unfoldStrip(surface, aimed, start, end);
        const aimedBends = pullTight(aimedUnfolded);
        if (!(aimedBends.length < bends.length)) continue;
        tris = aimed;
        unfolded = aimedUnfolded;
        bends = aimedBends;
        break;
      }
      continue;
    }
    const led = leadRoundBends(surface, tris, unfolded, bends);
    if (led === null) break;
    const tried = trimStrip(surface, removeLoops(surface, led), start, end);
    const triedUnfolded = unfoldStrip(surface, tried, start, end);
    const triedBends = pullTight(triedUnfolded);
    // Every pass must shorten; at rounding level it may not, and then the line is as straight as numbers go.
    if (!(triedBends.length < bends.length * (1 - 1e-13))) break;
    tris = tried;
    unfolded = triedUnfolded;
    bends = triedBends;
  }
  return layOnSurface(surface, tris, unfolded, bends, start, end);
}

/** A strip laid flat. Portal k is the edge between triangles k and k + 1 of the strip. */
interface UnfoldedStrip {
  /** Half-edge of triangle k by which it is left; its origin lies to the right, its end to the left. */
  readonly exits: Int32Array;
  /** Per portal: left x y, right x y; one more entry at the end that holds the end point twice. */
  readonly portals: Float64Array;
  readonly count: number;
  readonly startX: number;
  readonly startY: number;
}

/** The tight way through a strip: per bend the portal and the side of the vertex it goes round. */
interface Bends {
  readonly portal: number[];
  readonly isLeft: boolean[];
  readonly length: number;
}

function unfoldStrip(
  surface: SurfaceContext,
  tris: readonly number[],
  start: SurfacePoint,
  end: SurfacePoint,
): UnfoldedStrip {
  const { positions: p, indices, links } = surface;
  const count = tris.length - 1;
  const exits = new Int32Array(count);
  const portals = new Float64Array(4 * (count + 1));
  // Corner positions of the present triangle, by its corner number.
  let x0 = 0;
  let y0 = 0;
  const t0 = tris[0];
  const i0 = 3 * indices[3 * t0];
  const j0 = 3 * indices[3 * t0 + 1];
  const k0 = 3 * indices[3 * t0 + 2];
  let x1 = Math.hypot(p[j0] - p[i0], p[j0 + 1] - p[i0 + 1], p[j0 + 2] - p[i0 + 2]);
  let y1 = 0;
  const flat = new Float64Array(2);
  placeThird(p, i0, j0, k0, flat);
  let x2 = flat[0];
  let y2 = flat[1];
  const s = weightsIn(surface, t0, start);
  const startX = s[0] * x0 + s[1] * x1 + s[2] * x2;
  const startY = s[0] * y0 + s[1] * y1 + s[2] * y2;

  for (let n = 0; n < count; n++) {
    const t = tris[n];
    let exit = 3 * t;
    const next = tris[n + 1];
    while (exit < 3 * t + 3 && (links[exit] < 0 || ((links[exit] / 3) | 0) !== next)) exit++;
    if (exit === 3 * t + 3) throw new Error(`straightenStrip: triangles ${t} and ${next} share no edge`);
    exits[n] = exit;
    const c = exit - 3 * t;
    // Origin of the exit lies to the right, its end to the left, seen in the way's direction.
    const rx = c === 0 ? x0 : c === 1 ? x1 : x2;
    const ry = c === 0 ? y0 : c === 1 ? y1 : y2;
    const lx = c === 0 ? x1 : c === 1 ? x2 : x0;
    const ly = c === 0 ? y1 : c === 1 ? y2 : y0;
    portals[4 * n] = lx;
    portals[4 * n + 1] = ly;
    portals[4 * n + 2] = rx;
    portals[4 * n + 3] = ry;
    const over = links[exit];
    const apex = previousHalf(over);
    // The entry runs from the left point to the right one in the next triangle; its third corner lies to the left of that.
    placeThird(p, 3 * indices[over], 3 * indices[nextHalf(over)], 3 * indices[apex], flat);
    const ux = rx - lx;
    const uy = ry - ly;
    const len = Math.sqrt(ux * ux + uy * uy);
    const ex = len > 0 ? ux / len : 1;
    const ey = len > 0 ? uy / len : 0;
    const ax = lx + flat[0] * ex - flat[1] * ey;
    const ay = ly + flat[0] * ey + flat[1] * ex;
    const oc = over % 3;
    if (oc === 0) {
      x0 = lx;
      y0 = ly;
      x1 = rx;
      y1 = ry;
      x2 = ax;
      y2 = ay;
    } else if (oc === 1) {
      x1 = lx;
      y1 = ly;
      x2 = rx;
      y2 = ry;
      x0 = ax;
      y0 = ay;
    } else {
      x2 = lx;
      y2 = ly;
      x0 = rx;
      y0 = ry;
      x1 = ax;
      y1 = ay;
    }
  }
  const e = weightsIn(surface, tris[count], end);
  const endX = e[0] * x0 + e[1] * x1 + e[2] * x2;
  const endY = e[0] * y0 + e[1] * y1 + e[2] * y2;
  portals.set([endX, endY, endX, endY], 4 * count);
  return { exits, portals, count, startX, startY };
}

/** The funnel: the shortest way inside an unfolded strip. */
function pullTight(u: UnfoldedStrip): Bends {
  const q = u.portals;
  const portal: number[] = [];
  const isLeft: boolean[] = [];
  let length = 0;
  let ax = u.startX;
  let ay = u.startY;
  let lx = ax;
  let ly = ay;
  let rx = ax;
  let ry = ay;
  let leftAt = -1;
  let rightAt = -1;
  for (let i = 0; i <= u.count; i++) {
    const nlx = q[4 * i];
    const nly = q[4 * i + 1];
    const nrx = q[4 * i + 2];
    const nry = q[4 * i + 3];
    // While a side still is the apex itself, it holds nothing back.
    const leftFree = lx === ax && ly === ay;
    const rightFree = rx === ax && ry === ay;
    if (rightFree || (rx - ax) * (nry - ay) - (ry - ay) * (nrx - ax) >= 0) {
      if (rightFree || leftFree || (lx - ax) * (nry - ay) - (ly - ay) * (nrx - ax) < 0) {
        rx = nrx;
        ry = nry;
        rightAt = i;
      } else {
        length += Math.sqrt((lx - ax) ** 2 + (ly - ay) ** 2);
        portal.push(leftAt);
        isLeft.push(true);
        ax = lx;
        ay = ly;
        rx = ax;
        ry = ay;
        i = leftAt;
        rightAt = i;
        continue;
      }
    }
    if (leftFree || (lx - ax) * (nly - ay) - (ly - ay) * (nlx - ax) <= 0) {
      if (leftFree || rightFree || (rx - ax) * (nly - ay) - (ry - ay) * (nlx - ax) > 0) {
        lx = nlx;
        ly = nly;
        leftAt = i;
      } else {
        length += Math.sqrt((rx - ax) ** 2 + (ry - ay) ** 2);
        portal.push(rightAt);
        isLeft.push(false);
        ax = rx;
        ay = ry;
        lx = ax;
        ly = ay;
        i = rightAt;
        leftAt = i;
      }
    }
  }
  length += Math.sqrt((q[4 * u.count] - ax) ** 2 + (q[4 * u.count + 1] - ay) ** 2);
  return { portal, isLeft, length };
}

/** The point with its weights in `tri`, a triangle that holds it. */
function pointIn(surface: SurfaceContext, tri: number, point: SurfacePoint): SurfacePoint {
  if (tri === point.tri) return point;
  const [b0, b1, b2] = weightsIn(surface, tri, point);
  return { ...point, tri, b0, b1, b2 };
}

/** In which direction the tight way leaves its start, in the plane that the strip is laid in. */
function firstAngle(u: UnfoldedStrip, bends: Bends): number {
  const b = bends.portal.length > 0 ? 4 * bends.portal[0] + (bends.isLeft[0] ? 0 : 2) : 4 * u.count;
  return Math.atan2(u.portals[b + 1] - u.startY, u.portals[b] - u.startX);
}

/** The strip led round the other side of every bend that can be shortened (neighbouring bends: every other one); null when none can. */
function leadRoundBends(
  surface: SurfaceContext,
  tris: readonly number[],
  u: UnfoldedStrip,
  bends: Bends,
): number[] | null {
  const { indices, links } = surface;
  const q = u.portals;
  const out: number[] = [];
  let copied = 0;
  let changed = false;
  const bendCount = bends.portal.length;
  for (let n = 0; n < bendCount; n++) {
    const at = bends.portal[n];
    if (at >= u.count) continue;
    const left = bends.isLeft[n];
    const side = left ? 0 : 2;
    const v = indices[left ? nextHalf(u.exits[at]) : u.exits[at]];
    const vx = q[4 * at + side];
    const vy = q[4 * at + side + 1];
    let low = at;
    while (low > 0 && indices[left ? nextHalf(u.exits[low - 1]) : u.exits[low - 1]] === v) low--;
    let high = at;
    while (high + 1 < u.count && indices[left ? nextHalf(u.exits[high + 1]) : u.exits[high + 1]] === v)
      high++;
    // A strip already led anew there must be unfolded before it is judged again.
    if (low < copied) continue;

    // The bend's inner angle, from the neighbours on the tight way that do not coincide with it.
    let px = u.startX;
    let py = u.startY;
    if (n > 0) {
      const b = 4 * bends.portal[n - 1] + (bends.isLeft[n - 1] ? 0 : 2);
      px = q[b];
      py = q[b + 1];
    }
    let nx = q[4 * u.count];
    let ny = q[4 * u.count + 1];
    if (n + 1 < bendCount) {
      const b = 4 * bends.portal[n + 1] + (bends.isLeft[n + 1] ? 0 : 2);
      nx = q[b];
      ny = q[b + 1];
    }
    const ix = px - vx;
    const iy = py - vy;
    const ox = nx - vx;
    const oy = ny - vy;
    if ((ix === 0 && iy === 0) || (ox === 0 && oy === 0)) continue;
    const inner = Math.abs(Math.atan2(ix * oy - iy * ox, ix * ox + iy * oy));

    // Round the other side, from the first triangle at the vertex to the last.
    const fan: number[] = [];
    let around = 0;
    const goal = tris[high + 1];
    let spoke = left ? nextHalf(u.exits[low]) : previousHalf(u.exits[low]);
    let closed = false;
    for (;;) {
      const over = links[spoke];
      if (over < 0) break;
      const t = (over / 3) | 0;
      if (t === goal) {
        closed = true;
        break;
      }
      fan.push(t);
      around += angleAt(surface, t, v);
      if (fan.length > 10000) break;
      spoke = left ? nextHalf(over) : previousHalf(over);
    }
    if (!closed) continue;
    let inStrip = 0;
    for (let k = low; k <= high + 1; k++) inStrip += angleAt(surface, tris[k], v);
    const otherSide = around + inStrip - (2 * Math.PI - inner);
    if (otherSide >= Math.PI - STRAIGHT_RAD) continue;

    for (let k = copied; k <= low; k++) out.push(tris[k]);
    for (const t of fan) out.push(t);
    copied = high + 1;
    changed = true;
  }
  if (!changed) return null;
  for (let k = copied; k < tris.length; k++) out.push(tris[k]);
  return out;
}

function angleAt(surface: SurfaceContext, tri: number, v: number): number {
  const { positions: p, indices } = surface;
  let h = 3 * tri;
  if (indices[h] !== v) h = indices[h + 1] === v ? h + 1 : h + 2;
  const o = 3 * v;
  const a = 3 * indices[nextHalf(h)];
  const b = 3 * indices[previousHalf(h)];
  const ax = p[a] - p[o];
  const ay = p[a + 1] - p[o + 1];
  const az = p[a + 2] - p[o + 2];
  const bx = p[b] - p[o];
  const by = p[b + 1] - p[o + 1];
  const bz = p[b + 2] - p[o + 2];
  const cx = ay * bz - az * by;
  const cy = az * bx - ax * bz;
  const cz = ax * by - ay * bx;
  return Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), ax * bx + ay * by + az * bz);
}

/** The strip without the detours that come back to a triangle it already was in. */
function removeLoops(surface: SurfaceContext, strip: readonly number[]): number[] {
  const { triStamp, triValue } = surface;
  const generation = surface.nextGeneration();
  const out: number[] = [];
  for (const t of strip) {
    if (triStamp[t] === generation && triValue[t] < out.length && out[triValue[t]] === t) {
      out.length = triValue[t] + 1;
      continue;
    }
    triStamp[t] = generation;
    triValue[t] = out.length;
    out.push(t);
  }
  return out;
}

/** The strip from the last triangle that touches the start to the first after it that touches the end. */
function trimStrip(
  surface: SurfaceContext,
  strip: readonly number[],
  start: SurfacePoint,
  end: SurfacePoint,
): number[] {
  let first = 0;
  const startCorners = cornersOf(surface, start);
  for (let i = strip.length - 1; i > 0; i--) {
    if (touches(surface, strip[i], startCorners)) {
      first = i;
      break;
    }
  }
  let last = strip.length - 1;
  const endCorners = cornersOf(surface, end);
  for (let i = first; i < last; i++) {
    if (touches(surface, strip[i], endCorners)) {
      last = i;
      break;
    }
  }
  return strip.slice(first, last + 1);
}

/** The vertices whose common triangles all hold the point: one for a vertex, two for an edge, three inside. */
function cornersOf(surface: SurfaceContext, point: SurfacePoint): number[] {
  const corners: number[] = [];
  if (point.b0 > 0) corners.push(surface.indices[3 * point.tri]);
  if (point.b1 > 0) corners.push(surface.indices[3 * point.tri + 1]);
  if (point.b2 > 0) corners.push(surface.indices[3 * point.tri + 2]);
  return corners;
}

function touches(surface: SurfaceContext, tri: number, corners: readonly number[]): boolean {
  const { indices } = surface;
  const a = indices[3 * tri];
  const b = indices[3 * tri + 1];
  const c = indices[3 * tri + 2];
  for (const v of corners) if (v !== a && v !== b && v !== c) return false;
  return true;
}

/** The weights of a point in any triangle that holds it. */
function weightsIn(surface: SurfaceContext, tri: number, point: SurfacePoint): [number, number, number] {
  if (tri === point.tri) return [point.b0, point.b1, point.b2];
  const { indices } = surface;
  const own = [point.b0, point.b1, point.b2];
  const out: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    if (own[k] === 0) continue;
    const v = indices[3 * point.tri + k];
    for (let c = 0; c < 3; c++) if (indices[3 * tri + c] === v) out[c] = own[k];
  }
  return out;
}

/** The tight way as surface points: where it crosses each edge of the strip. */
function layOnSurface(
  surface: SurfaceContext,
  tris: readonly number[],
  u: UnfoldedStrip,
  bends: Bends,
  start: SurfacePoint,
  end: SurfacePoint,
): TrianglePath {
  const { positions: p, indices } = surface;
  const q = u.portals;
  const points = [start.x, start.y, start.z];
  const verts = [vertexOf(surface, start)];
  const outTris: number[] = [];
  let px = start.x;
  let py = start.y;
  let pz = start.z;
  let ax = u.startX;
  let ay = u.startY;
  let bend = 0;
  for (let k = 0; k < u.count; k++) {
    // Bends up to here are behind; the way runs from the last of them to the next.
    while (bend < bends.portal.length && bends.portal[bend] < k) {
      const b = 4 * bends.portal[bend] + (bends.isLeft[bend] ? 0 : 2);
      ax = q[b];
      ay = q[b + 1];
      bend++;
    }
    let share: number;
    if (bend < bends.portal.length && bends.portal[bend] === k) {
      share = bends.isLeft[bend] ? 1 : 0;
    } else {
      const to =
        bend < bends.portal.length ? 4 * bends.portal[bend] + (bends.isLeft[bend] ? 0 : 2) : 4 * u.count;
      const bx = q[to] - ax;
      const by = q[to + 1] - ay;
      // Signed distances of the portal's right and left ends from the line; the way passes between them.
      const right = bx * (q[4 * k + 3] - ay) - by * (q[4 * k + 2] - ax);
      const left = bx * (q[4 * k + 1] - ay) - by * (q[4 * k] - ax);
      const span = left - right;
      share = span > 0 ? Math.min(1, Math.max(0, -right / span)) : nearerEnd(q, k, ax, ay);
    }
    const a = 3 * indices[u.exits[k]];
    const b = 3 * indices[nextHalf(u.exits[k])];
    if (share < SNAP_SHARE) share = 0;
    else if (share > 1 - SNAP_SHARE) share = 1;
    const x = share === 0 ? p[a] : share === 1 ? p[b] : p[a] + share * (p[b] - p[a]);
    const y = share === 0 ? p[a + 1] : share === 1 ? p[b + 1] : p[a + 1] + share * (p[b + 1] - p[a + 1]);
    const z = share === 0 ? p[a + 2] : share === 1 ? p[b + 2] : p[a + 2] + share * (p[b + 2] - p[a + 2]);
    if (x === px && y === py && z === pz) continue;
    points.push(x, y, z);
    verts.push(share === 0 ? a / 3 : share === 1 ? b / 3 : -1);
    outTris.push(tris[k]);
    px = x;
    py = y;
    pz = z;
  }
  if (end.x !== px || end.y !== py || end.z !== pz) {
    points.push(end.x, end.y, end.z);
    verts.push(vertexOf(surface, end));
    outTris.push(tris[u.count]);
  }
  return { points, verts, tris: outTris };
}

function vertexOf(surface: SurfaceContext, point: SurfacePoint): number {
  const corners = cornersOf(surface, point);
  return corners.length === 1 ? corners[0] : -1;
}

/** When the way runs along the portal itself (or the apex lies on it): the end at the apex, right 0 or left 1. */
function nearerEnd(q: Float64Array, k: number, ax: number, ay: number): number {
  const right = (q[4 * k + 2] - ax) ** 2 + (q[4 * k + 3] - ay) ** 2;
  const left = (q[4 * k] - ax) ** 2 + (q[4 * k + 1] - ay) ** 2;
  return right <= left ? 0 : 1;
}
