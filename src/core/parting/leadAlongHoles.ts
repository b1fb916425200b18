import { PlanError } from '../errors.ts';
import { nextHalf, type SurfaceContext } from './SurfaceContext.ts';
import { sayPlace } from './sayPlace.ts';
import type { TrianglePath } from './straightenStrip.ts';

/**
 * Between two control points a line may run along the border of a hole for this share of the diagonal: past a small
 * unfilled hole, not round a large one. A choice.
 */
const HOLE_SHARE = 0.1;

/**
 * A leg that touches the border of a hole more than once, led exactly along the border from the first touch to the last,
 * the shorter way round. Without this it would cut off the notches between the border's outermost vertices as pieces of
 * their own. Other legs come back as they are.
 *
 * @param where names the leg, for the sentence of an error.
 * @throws PlanError 'bad-line' when the way along one hole is longer than HOLE_SHARE allows.
 */
export function leadAlongHoles(surface: SurfaceContext, leg: TrianglePath, where: string): TrianglePath {
  const { holeOfVertex } = surface;
  if (holeOfVertex.size === 0) return leg;
  for (let first = 0; first < leg.verts.length; first++) {
    const hole = holeOfVertex.get(leg.verts[first]);
    if (hole === undefined) continue;
    let last = first;
    for (let n = first + 1; n < leg.verts.length; n++) if (holeOfVertex.get(leg.verts[n]) === hole) last = n;
    if (last === first) continue;
    const walk = shorterWalk(surface, leg.verts[first], leg.verts[last]);
    if (walk === null) continue;
    const { positions: p } = surface;
    if (walk.lengthMm > HOLE_SHARE * surface.diagonalMm) {
      const v = 3 * leg.verts[first];
      throw new PlanError(
        'bad-line',
        `The parting line runs into a hole of the scan ${where}, near ${sayPlace([p[v], p[v + 1], p[v + 2]])}. Lead it beside the hole with a point to one side, or have the hole filled.`,
      );
    }
    const rest = leadAlongHoles(
      surface,
      {
        points: leg.points.slice(3 * last),
        verts: leg.verts.slice(last),
        tris: leg.tris.slice(last),
      },
      where,
    );
    const between = walk.verts.slice(1, -1);
    return {
      points: [
        ...leg.points.slice(0, 3 * first + 3),
        ...between.flatMap((v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]]),
        ...rest.points,
      ],
      verts: [...leg.verts.slice(0, first + 1), ...between, ...rest.verts],
      tris: [...leg.tris.slice(0, first), ...walk.tris, ...rest.tris],
    };
  }
  return leg;
}

interface Walk {
  readonly verts: number[];
  readonly tris: number[];
  readonly lengthMm: number;
}

/** Along the border of a hole from one vertex to another, with the border's sense or against it; null where the border is torn. */
function shorterWalk(surface: SurfaceContext, from: number, to: number): Walk | null {
  const ahead = walkAhead(surface, from, to);
  const back = walkAhead(surface, to, from);
  if (ahead !== null && (back === null || ahead.lengthMm <= back.lengthMm)) return ahead;
  if (back === null) return null;
  return { verts: back.verts.reverse(), tris: back.tris.reverse(), lengthMm: back.lengthMm };
}

function walkAhead(surface: SurfaceContext, from: number, to: number): Walk | null {
  const { holeHalfFrom, indices, positions: p } = surface;
  const verts = [from];
  const tris: number[] = [];
  let lengthMm = 0;
  for (let v = from; v !== to; ) {
    const half = holeHalfFrom.get(v);
    // Longer than all borders together: the walk goes round without meeting its goal.
    if (half === undefined || verts.length > holeHalfFrom.size) return null;
    const next = indices[nextHalf(half)];
    lengthMm += Math.hypot(
      p[3 * next] - p[3 * v],
      p[3 * next + 1] - p[3 * v + 1],
      p[3 * next + 2] - p[3 * v + 2],
    );
    verts.push(next);
    tris.push((half / 3) | 0);
    v = next;
  }
  return { verts, tris, lengthMm };
}
