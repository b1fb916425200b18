import { PlanError } from '../errors.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import { findStrip } from './findStrip.ts';
import type { SurfaceContext, SurfacePoint } from './SurfaceContext.ts';
import { straightenStrip } from './straightenStrip.ts';
import type { LevelCurve } from './traceLevelSet.ts';

/** Fewest and most points that people like to edit. A choice. */
const LEAST_CONTROLS = 8;
const MOST_CONTROLS = 24;
/** More are taken only where the line would otherwise leave its curve by FAR_SHARE and might pass a limb on the wrong side. */
const MOST_CONTROLS_IN_NEED = 60;
const FAR_SHARE = 0.02;

/** The joined line may leave the curve by this share of the surface's diagonal. A choice: about a shim's height on a mould half a metre tall. */
const LEAVE_SHARE = 0.008;

/**
 * A few points of a curve such that the line joined through them along the surface stays by the curve: the method of
 * Douglas & Peucker (1973) with ways along the surface in place of straight lines. Each point is a point of S, mm.
 * Cost: two short path searches a control point.
 */
export function thinToControls(surface: SurfaceContext, curve: LevelCurve): Vec3[] {
  const q = curve.points;
  const count = q.length / 3;
  if (count < (curve.closed ? 3 : 2)) {
    throw new PlanError(
      'bad-line',
      'The first parting line is shorter than a triangle. Draw the line by hand.',
    );
  }
  const stopOf = (i: number): SurfacePoint => surface.closestPoint([q[3 * i], q[3 * i + 1], q[3 * i + 2]]);
  const most = LEAVE_SHARE * surface.diagonalMm;
  interface Leg {
    readonly from: number;
    readonly to: number;
    readonly worst: number;
    readonly away: number;
  }
  const legOf = (from: number, to: number): Leg => {
    if (to - from < 2) return { from, to, worst: -1, away: 0 };
    const a = stopOf(from % count);
    const b = stopOf(to % count);
    const strip = findStrip(surface, a, b);
    const middle = (from + to) >> 1;
    if (strip === null) return { from, to, worst: middle, away: Infinity };
    const way = straightenStrip(surface, strip, a, b).points;
    let worst = middle;
    let away = 0;
    // Some 40 curve points tell as much as all of them.
    const step = Math.max(1, Math.floor((to - from) / 40));
    for (let i = from + step; i < to; i += step) {
      const d = distanceToPolyline(way, q, 3 * (i % count));
      if (d > away) {
        away = d;
        worst = i;
      }
    }
    return { from, to, worst, away };
  };
  const legs: Leg[] = [];
  if (curve.closed) {
    for (let n = 0; n < 4; n++) {
      const from = Math.floor((n * count) / 4);
      const to = Math.floor(((n + 1) * count) / 4);
      if (to > from) legs.push(legOf(from, to));
    }
  } else legs.push(legOf(0, count - 1));

  const controls = (): number => legs.length + (curve.closed ? 0 : 1);
  while (controls() < MOST_CONTROLS_IN_NEED) {
    let n = 0;
    for (let i = 1; i < legs.length; i++) if (legs[i].away > legs[n].away) n = i;
    if (controls() >= MOST_CONTROLS && legs[n].away <= FAR_SHARE * surface.diagonalMm) break;
    let cut = legs[n].worst;
    if (legs[n].away <= most) {
      if (controls() >= LEAST_CONTROLS) break;
      // Good already: only so that there is something to take hold of, the longest leg is halved.
      for (let i = 0; i < legs.length; i++) if (legs[i].to - legs[i].from > legs[n].to - legs[n].from) n = i;
      if (legs[n].to - legs[n].from < 2) break;
      cut = (legs[n].from + legs[n].to) >> 1;
    }
    legs.splice(n, 1, legOf(legs[n].from, cut), legOf(cut, legs[n].to));
  }
  const at = legs.map((leg) => leg.from % count);
  if (!curve.closed) at.push(count - 1);
  return at.map((i): Vec3 => {
    const { x, y, z } = stopOf(i);
    return [x, y, z];
  });
}

function distanceToPolyline(way: readonly number[], q: Float64Array, o: number): number {
  let best = Infinity;
  for (let i = 0; i + 3 < way.length; i += 3) {
    const dx = way[i + 3] - way[i];
    const dy = way[i + 4] - way[i + 1];
    const dz = way[i + 5] - way[i + 2];
    const ex = q[o] - way[i];
    const ey = q[o + 1] - way[i + 1];
    const ez = q[o + 2] - way[i + 2];
    const len2 = dx * dx + dy * dy + dz * dz;
    const s = len2 > 0 ? Math.min(1, Math.max(0, (ex * dx + ey * dy + ez * dz) / len2)) : 0;
    const d2 = (ex - s * dx) ** 2 + (ey - s * dy) ** 2 + (ez - s * dz) ** 2;
    if (d2 < best) best = d2;
  }
  return Math.sqrt(best);
}
