import { type CoarseSurface, coarsenSurface } from './coarsenSurface.ts';
import type { SurfaceContext, SurfacePoint } from './SurfaceContext.ts';
import { searchStrip } from './searchStrip.ts';
import { straightenStrip } from './straightenStrip.ts';

/** Scans of fewer triangles are searched as they are. */
const LEAST_TRIS = 30_000;
/** Ways of fewer coarse edges than this are searched as they are. */
const LEAST_COARSE_EDGES = 4;

/** Made at the first long way over a surface and kept as long as it lives. */
const coarseOf = new WeakMap<SurfaceContext, CoarseSurface>();

/**
 * The triangles that a short way from one surface point to another runs through, first to last, neighbours sharing an
 * edge; null when the two lie on parts that are not connected.
 *
 * Near points are searched for directly (`searchStrip`). Far ones first on a coarse surface (and that
 * on a coarser one, until few triangles are left), where the way is made locally shortest too, so that its course is nearly
 * right at once; then piece by piece on S along it. Not yet the shortest way:
 * `straightenStrip` makes it so, and what it comes to rest on does not hang on the coarse surface but for the side on which
 * the way passes limbs and holes.
 * Cost: 3-10 ms right across 1 million triangles; the coarse surfaces are made once, 0.3 s.
 */
export function findStrip(surface: SurfaceContext, start: SurfacePoint, end: SurfacePoint): number[] | null {
  if (surface.triCount >= LEAST_TRIS) {
    let coarse = coarseOf.get(surface);
    if (!coarse) {
      coarse = coarsenSurface(surface);
      coarseOf.set(surface, coarse);
    }
    const straight = Math.hypot(end.x - start.x, end.y - start.y, end.z - start.z);
    if (straight > LEAST_COARSE_EDGES * coarse.meanEdgeMm) {
      const strip = stripAlongCoarse(surface, coarse, start, end);
      if (strip !== null) return strip;
    }
  }
  return searchStrip(surface, start, end);
}

/** The strip along the coarse way; null where the coarse surface has none or leads astray. */
function stripAlongCoarse(
  surface: SurfaceContext,
  coarse: CoarseSurface,
  start: SurfacePoint,
  end: SurfacePoint,
): number[] | null {
  const a = onCoarse(surface, coarse, start);
  const b = onCoarse(surface, coarse, end);
  if (a === null || b === null) return null;
  const rough = findStrip(coarse.surface, a, b);
  if (rough === null) return null;
  const way = straightenStrip(coarse.surface, rough, a, b);
  const strip: number[] = [start.tri];
  let from = start;
  for (let i = 1; i < way.tris.length; i++) {
    const stop = onFine(surface, coarse, way.points, i, way.tris);
    const leg = searchStrip(surface, from, stop);
    if (leg === null) return null;
    for (let k = 1; k < leg.length; k++) strip.push(leg[k]);
    from = stop;
  }
  const leg = searchStrip(surface, from, end);
  if (leg === null) return null;
  for (let k = 1; k < leg.length; k++) strip.push(leg[k]);
  return strip;
}

/** The coarse point in place of a point of S: the nearest, if it is of the same part; else the vertex of its cell. */
function onCoarse(surface: SurfaceContext, coarse: CoarseSurface, point: SurfacePoint): SurfacePoint | null {
  const cell = coarse.cellOf[surface.indices[3 * point.tri]];
  const { indices, triCount } = coarse.surface;
  if (cell < 0 || triCount === 0) return null;
  const near = coarse.surface.closestPoint([point.x, point.y, point.z]);
  for (let k = 0; k < 3; k++) if (indices[3 * near.tri + k] === cell) return near;
  return null;
}

/** The point of S in place of point i of a coarse way: the nearest, if it lies in one of the cells there; else a cell's own vertex. */
function onFine(
  surface: SurfaceContext,
  coarse: CoarseSurface,
  points: readonly number[],
  i: number,
  tris: readonly number[],
): SurfacePoint {
  const { indices } = coarse.surface;
  const near = surface.closestPoint([points[3 * i], points[3 * i + 1], points[3 * i + 2]]);
  const cell = coarse.cellOf[surface.indices[3 * near.tri]];
  for (const t of [tris[i - 1], tris[i]]) {
    for (let k = 0; k < 3; k++) if (indices[3 * t + k] === cell) return near;
  }
  const v = 3 * coarse.seed[indices[3 * tris[i]]];
  const p = surface.positions;
  return surface.closestPoint([p[v], p[v + 1], p[v + 2]]);
}
