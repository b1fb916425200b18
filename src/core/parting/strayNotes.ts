import { sayLength } from '../mesh/sayLength.ts';
import type { Vec3 } from '../mesh/TriMesh.ts';
import type { ScanNote } from '../PlanResult.ts';
import type { MarkedArea, PlanDocument } from '../plan/PlanDocument.ts';
import { sayBoth } from '../sayBoth.ts';
import type { SurfaceContext } from './SurfaceContext.ts';

/**
 * What was drawn lies on the rubber to a hair; off it by more than this share of the surface's diagonal, it was drawn on
 * something else. A choice: the same figure scanned again differs by less, mended holes and cut-off parts mostly too.
 */
const STRAY_SHARE = 0.01;

/** Nor may lines be off by more than this share of their own extent: small ones in a corner of a large scan. Own choice. */
const STRAY_LINE_SHARE = 0.05;

/**
 * Notes on what of a plan was drawn on another surface: lines, points that name pieces or accept filler, and painted areas. A
 * plan that is carried over to another scan, or to the same one mirrored or turned, would else be cut as if it were meant so;
 * lines far off are refused when they are laid (see `joinAlongSurface`).
 *
 * @param surface the rubber as scanned, without filler
 * Cost: a nearest point for each point drawn, at most 0.2 s when everything is as full as a plan may be.
 */
export function strayNotes(
  surface: SurfaceContext,
  { parting, scan }: Pick<PlanDocument, 'parting' | 'scan'>,
): ScanNote[] {
  const notes: ScanNote[] = [];
  const nearMm = STRAY_SHARE * surface.diagonalMm;
  const tell = (code: string, what: string, points: readonly Vec3[], then: string, mostMm = nearMm): void => {
    const farthestMm = points.reduce((most, point) => Math.max(most, offMm(surface, point)), 0);
    if (farthestMm <= mostMm) return;
    const said = sayBoth(
      'text',
      (system) =>
        `${what} up to ${sayLength(farthestMm, system)} off the rubber: the plan was made on another scan, or on this one at another size or turned. ${then}`,
    );
    notes.push({ code, ...said });
  };
  if (parting.lines !== 'auto') {
    const points = parting.lines.flatMap((line) => line.points);
    const mostMm = Math.min(nearMm, STRAY_LINE_SHARE * extentMm(points));
    tell(
      'lines-stray',
      'The parting lines lie',
      points,
      'Look along every line, and draw anew what does not sit where you want it.',
      mostMm,
    );
  }
  tell(
    'pieces-stray',
    'The points that give pieces their names and pulls lie',
    parting.pieces.map(({ anchorMm }) => anchorMm),
    'Look whether names and pulls stand at the right pieces.',
  );
  if (parting.blockOut !== 'all') {
    tell('filler-stray', 'The points that accept filler lie', parting.blockOut, 'Look at what is filled.');
  }
  const missing = [...scan.keepClear, ...parting.notHere].filter((area) => !isTouching(surface, area)).length;
  if (missing > 0) {
    notes.push({
      code: 'areas-stray',
      text: `${missing} of the painted areas ${missing === 1 ? 'does' : 'do'} not touch the rubber, and so ${missing === 1 ? 'has' : 'have'} no effect. Paint what is meant anew, and take the old ones out.`,
      count: missing,
    });
  }
  return notes;
}

function isTouching(surface: SurfaceContext, { radiusMm, dabsMm }: MarkedArea): boolean {
  return dabsMm.some((dab) => offMm(surface, dab) <= radiusMm);
}

function offMm(surface: SurfaceContext, point: Vec3): number {
  const { x, y, z } = surface.closestPoint(point);
  return Math.hypot(x - point[0], y - point[1], z - point[2]);
}

/** Diagonal of the points' box; 0 of none. */
function extentMm(points: readonly Vec3[]): number {
  const sides = [0, 1, 2].map((axis) => {
    let least = Infinity;
    let most = -Infinity;
    for (const point of points) {
      least = Math.min(least, point[axis]);
      most = Math.max(most, point[axis]);
    }
    return Math.max(0, most - least);
  });
  return Math.hypot(...sides);
}
