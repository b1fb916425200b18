import { PlanError } from '../errors.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import { segmentsCross } from './draw/countCrossings.ts';
import { layLeg } from './layLeg.ts';
import { leadAlongHoles } from './leadAlongHoles.ts';
import type { SurfaceContext, SurfacePoint } from './SurfaceContext.ts';
import { sayPlace } from './sayPlace.ts';
import type { TrianglePath } from './straightenStrip.ts';
import type { SurfacePath } from './types.ts';

/**
 * How far an open line's end is drawn on to the board or to another line, as a share of the surface's diagonal. A
 * choice: far enough that nobody has to aim at the rim, near enough that a line that was never meant to get there is
 * refused.
 */
export const END_REACH_SHARE = 0.15;

/**
 * A control point further from the rubber than this share of the diagonal belongs to another scan or another stand of it. A
 * choice: filler and mended holes move the surface by less, a turned scan leaves its lines further off.
 */
const OFF_SHARE = 0.15;

/** An end this near to its goal, as a share of the diagonal, is moved there instead of being drawn on: no stub of a line. */
const END_MOVE_SHARE = 2e-4;

/** Control points nearer to each other than this share of the diagonal count as one. */
const SAME_POINT_SHARE = 1e-9;

/** An end out of reach of anything to stand on: refused with an error, or left where it is. */
export type LooseEnds = 'refused' | 'kept';

/**
 * The line through control points along S: each point is moved to the nearest point of S, each two are joined by a
 * locally shortest way (see `straightenStrip`), so that the line bends at control points only (and at saddles and
 * borders that it goes round).
 *
 * @param controlPoints board frame, mm; at least 2 for an open line, 3 for a closed one.
 * @param closed the last point is joined to the first again.
 * @param others lines that an open line's end may stand on (T junction). Such an end lies exactly on that line.
 * @param looseEnds what becomes of an open line's end that is out of reach of board and lines; 'kept' is for showing a
 *   line while it is being drawn.
 * @returns the path; an open one starts and ends exactly on the rim or on one of `others`, drawn on if its ends lie
 *   within END_REACH_SHARE of it.
 * @throws PlanError 'bad-line': too few points, a point far off the rubber, points on parts that are not connected, an end
 *   in the air, a line that runs along a large hole or crosses itself. Lines may cross each other.
 * Cost: 1 ms between neighbouring points, 5-20 ms right across 1 million triangles (see `findStrip`).
 */
export function joinAlongSurface(
  surface: SurfaceContext,
  controlPoints: readonly Vec3[],
  closed: boolean,
  others: readonly SurfacePath[] = [],
  looseEnds: LooseEnds = 'refused',
): SurfacePath {
  const needed = closed ? 3 : 2;
  if (controlPoints.length < needed) {
    throw new PlanError(
      'bad-line',
      `A parting line needs at least ${needed} points${closed ? ' to close' : ''}, it has ${controlPoints.length}. Draw more points on the rubber.`,
    );
  }
  let stops = dropRepeats(surface, findStops(surface, controlPoints), closed);
  if (!closed) stops = carryEnds(surface, stops, others, looseEnds);
  if (stops.length < needed) {
    throw new PlanError(
      'bad-line',
      `The points of the parting line at ${sayPlace(controlPoints[0])} fall on top of each other. Draw them further apart.`,
    );
  }

  const points: number[] = [];
  const verts: number[] = [];
  const tris: number[] = [];
  /** By leg: the count of segments up to its end. */
  const legEnds: number[] = [];
  const legs = closed ? stops.length : stops.length - 1;
  for (let n = 0; n < legs; n++) {
    const a = stops[n];
    const b = stops[(n + 1) % stops.length];
    const where = sayLeg(a, b);
    const leg = leadAlongHoles(surface, layLeg(surface, a.at, b.at, where), where);
    legEnds.push(tris.length + leg.tris.length);
    for (let i = points.length === 0 ? 0 : 3; i < leg.points.length; i++) points.push(leg.points[i]);
    for (let i = verts.length === 0 ? 0 : 1; i < leg.verts.length; i++) verts.push(leg.verts[i]);
    for (const t of leg.tris) tris.push(t);
  }
  const { path, dropped } = closed
    ? { path: newPath(points, tris, true), dropped: 0 }
    : withoutRimEnds(surface, { points, verts, tris });
  checkSelfCrossing(surface, path, (segment) => {
    const leg = legEnds.findIndex((end) => segment + dropped < end);
    return sayLeg(stops[leg], stops[(leg + 1) % stops.length]);
  });
  return path;
}

/** A point that the line passes, with its number as people count the control points; null for an end put on the rim or a line. */
interface Stop {
  readonly at: SurfacePoint;
  readonly number: number | null;
}

/** Which leg of a line is meant, for sentences: "between points 2 and 3". */
function sayLeg(a: Stop, b: Stop): string {
  if (a.number !== null && b.number !== null) return `between points ${a.number} and ${b.number}`;
  return `at the end beside point ${a.number ?? b.number}`;
}

/** The points of S nearest to the control points. Throws where one lies too far off to be meant for this rubber. */
function findStops(surface: SurfaceContext, controlPoints: readonly Vec3[]): Stop[] {
  return controlPoints.map((point, i): Stop => {
    const at = surface.closestPoint(point);
    const offMm = Math.hypot(at.x - point[0], at.y - point[1], at.z - point[2]);
    if (offMm > OFF_SHARE * surface.diagonalMm) {
      throw new PlanError(
        'bad-line',
        `Point ${i + 1} of the parting line, ${sayPlace(point)}, lies ${offMm.toFixed(0)} mm off the rubber. Move it on to the rubber, or draw the line anew if the scan was turned or replaced.`,
      );
    }
    return { at, number: i + 1 };
  });
}

/** A path from flat points and triangles, its length measured. */
export function newPath(points: ArrayLike<number>, tris: ArrayLike<number>, closed: boolean): SurfacePath {
  let lengthMm = 0;
  for (let i = 3; i < points.length; i += 3) {
    lengthMm += Math.hypot(
      points[i] - points[i - 3],
      points[i + 1] - points[i - 2],
      points[i + 2] - points[i - 1],
    );
  }
  return { points: Float64Array.from(points), segmentTris: Int32Array.from(tris), closed, lengthMm };
}

/**
 * An open path less the parts of its ends that run along the rim, touching it again: it starts where it leaves the rim
 * for good and ends where it first comes back. What it would cut off between itself and a jagged rim is no piece.
 * `dropped`: segments taken off at the start.
 */
function withoutRimEnds(surface: SurfaceContext, path: TrianglePath): { path: SurfacePath; dropped: number } {
  const { points, verts, tris } = path;
  const reach = END_REACH_SHARE * surface.diagonalMm;
  const isRim = (n: number): boolean => verts[n] >= 0 && surface.isOnRim[verts[n]] === 1;
  const stepMm = (n: number): number =>
    Math.hypot(
      points[3 * n] - points[3 * n - 3],
      points[3 * n + 1] - points[3 * n - 2],
      points[3 * n + 2] - points[3 * n - 1],
    );
  let first = 0;
  let along = 0;
  for (let n = 1; n < verts.length - 1 && along <= reach; n++) {
    along += stepMm(n);
    if (along <= reach && isRim(n)) first = n;
  }
  let last = verts.length - 1;
  along = 0;
  for (let n = verts.length - 2; n > first && along <= reach; n--) {
    along += stepMm(n + 1);
    if (along <= reach && isRim(n)) last = n;
  }
  return {
    path: newPath(points.slice(3 * first, 3 * last + 3), tris.slice(first, last), false),
    dropped: first,
  };
}

function dropRepeats(surface: SurfaceContext, stops: readonly Stop[], closed: boolean): Stop[] {
  const least = SAME_POINT_SHARE * surface.diagonalMm;
  const kept: Stop[] = [];
  for (const stop of stops) {
    const last = kept[kept.length - 1];
    if (last && distance(stop.at, last.at) <= least) continue;
    kept.push(stop);
  }
  while (closed && kept.length > 1 && distance(kept[0].at, kept[kept.length - 1].at) <= least) kept.pop();
  return kept;
}

/** The stops with both ends moved or drawn on to the nearest of rim and other lines. */
function carryEnds(
  surface: SurfaceContext,
  stops: readonly Stop[],
  others: readonly SurfacePath[],
  looseEnds: LooseEnds,
): Stop[] {
  const out = [...stops];
  for (const atEnd of [false, true]) {
    const { at, number } = atEnd ? out[out.length - 1] : out[0];
    const goal = nearestGoal(surface, at, others);
    if (goal === null || goal.distanceMm > END_REACH_SHARE * surface.diagonalMm) {
      if (looseEnds === 'kept') continue;
      throw new PlanError(
        'bad-line',
        goal === null
          ? 'This rubber has no edge on a board, so an open parting line separates nothing. Close the line.'
          : `The parting line ends in the air: its ${atEnd ? 'last' : 'first'} point, ${sayPlace([at.x, at.y, at.z])}, is ${goal.distanceMm.toFixed(1)} mm short of the ${others.length > 0 ? 'nearest board or line' : 'board'}. Draw it down to the board or on to another line, or close it.`,
      );
    }
    const isMove = goal.distanceMm <= END_MOVE_SHARE * surface.diagonalMm && out.length > 1;
    if (isMove) out[atEnd ? out.length - 1 : 0] = { at: goal.point, number };
    else if (atEnd) out.push({ at: goal.point, number: null });
    else out.unshift({ at: goal.point, number: null });
  }
  return dropRepeats(surface, out, false);
}

function nearestGoal(
  surface: SurfaceContext,
  stop: SurfacePoint,
  others: readonly SurfacePath[],
): { point: SurfacePoint; distanceMm: number } | null {
  let best = surface.closestRimPoint(stop.x, stop.y, stop.z);
  for (const other of others) {
    const q = other.points;
    for (let i = 0; i < other.segmentTris.length; i++) {
      const o = 3 * i;
      const dx = q[o + 3] - q[o];
      const dy = q[o + 4] - q[o + 1];
      const dz = q[o + 5] - q[o + 2];
      const len2 = dx * dx + dy * dy + dz * dz;
      const dot = (stop.x - q[o]) * dx + (stop.y - q[o + 1]) * dy + (stop.z - q[o + 2]) * dz;
      const share = len2 > 0 ? Math.min(1, Math.max(0, dot / len2)) : 0;
      const x = q[o] + share * dx;
      const y = q[o + 1] + share * dy;
      const z = q[o + 2] + share * dz;
      const distanceMm = Math.hypot(x - stop.x, y - stop.y, z - stop.z);
      if (best === null || distanceMm < best.distanceMm) {
        best = { point: surface.pointInTri(other.segmentTris[i], x, y, z), distanceMm };
      }
    }
  }
  return best;
}

/**
 * Throws when two segments of the path that are not neighbours cross inside a triangle.
 *
 * @param sayLegOf names the leg that a segment belongs to.
 */
function checkSelfCrossing(
  surface: SurfaceContext,
  path: SurfacePath,
  sayLegOf: (segment: number) => string,
): void {
  const { triStamp, triValue } = surface;
  const count = path.segmentTris.length;
  const generation = surface.nextGeneration();
  const before = new Int32Array(count).fill(-1);
  const q = path.points;
  for (let i = 0; i < count; i++) {
    const t = path.segmentTris[i];
    if (triStamp[t] === generation) before[i] = triValue[t];
    triStamp[t] = generation;
    triValue[t] = i;
    for (let j = before[i]; j >= 0; j = before[j]) {
      if (i - j < 2 || (path.closed && i - j === count - 1)) continue;
      if (segmentsCross(surface, t, q, i, q, j)) {
        throw new PlanError(
          'bad-line',
          `The parting line crosses itself near ${sayPlace([q[3 * i], q[3 * i + 1], q[3 * i + 2]])}: ${sayLegOf(j)} and ${sayLegOf(i)}. Move these points apart, or draw two lines.`,
        );
      }
    }
  }
}

const distance = (a: SurfacePoint, b: SurfacePoint): number => Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
