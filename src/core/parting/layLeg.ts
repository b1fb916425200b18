import { PlanError } from '../errors.ts';
import { findStrip } from './findStrip.ts';
import type { SurfaceContext, SurfacePoint } from './SurfaceContext.ts';
import { sayPlace } from './sayPlace.ts';
import { straightenStrip, type TrianglePath } from './straightenStrip.ts';

/**
 * The locally shortest way along S between two points of it.
 *
 * @param where names the leg, for the sentence of an error.
 * @throws PlanError 'bad-line' when they lie on parts that are not connected.
 */
export function layLeg(
  surface: SurfaceContext,
  a: SurfacePoint,
  b: SurfacePoint,
  where = 'between two points',
): TrianglePath {
  const strip = findStrip(surface, a, b);
  if (strip === null) {
    throw new PlanError(
      'bad-line',
      `The parting line cannot go on ${where}: no way along the rubber leads from ${sayPlace([a.x, a.y, a.z])} to ${sayPlace([b.x, b.y, b.z])}, they lie on parts that are not connected. Move one of the points.`,
    );
  }
  return straightenStrip(surface, strip, a, b);
}
