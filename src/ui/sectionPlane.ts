import type { Box } from '../core/mesh/TriMesh.ts';
import type { SectionPlane } from '../jobs/protocol.ts';
import type { SectionAxis } from '../session/ViewPrefs.ts';

/** Kept clear of the very ends, share of the extent: a plane that only touches the mould cuts nothing. */
const END_MARGIN = 0.01;

/**
 * The plane of the section view, board frame, mm. `at` 0..1 runs from front to back (across), left to right (along) or
 * board to top (level). The normal points to the side that is taken away: toward the front, the right, and up.
 */
export function sectionPlane(axis: SectionAxis, at: number, box: Box): SectionPlane {
  const share = END_MARGIN + (1 - 2 * END_MARGIN) * Math.min(1, Math.max(0, at));
  const place = (k: 0 | 1 | 2) => box.min[k] + share * (box.max[k] - box.min[k]);
  if (axis === 'across') return { normal: [0, -1, 0], offsetMm: -place(1) };
  if (axis === 'along') return { normal: [1, 0, 0], offsetMm: place(0) };
  return { normal: [0, 0, 1], offsetMm: place(2) };
}

/** Where the plane stands as a person says it, mm from the front, the left, or the board. */
export function sectionDistanceMm(axis: SectionAxis, at: number, box: Box): number {
  const plane = sectionPlane(axis, at, box);
  if (axis === 'across') return -plane.offsetMm - box.min[1];
  if (axis === 'along') return plane.offsetMm - box.min[0];
  return plane.offsetMm - box.min[2];
}
