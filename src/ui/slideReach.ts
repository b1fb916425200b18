import type { Box } from '../core/mesh/TriMesh.ts';

/** How far pieces are slid at most, mm: as far as the mould is wide, after which nothing of it is in their way. */
export function slideReachMm({ min, max }: Box): number {
  return Math.max(max[0] - min[0], max[1] - min[1]);
}
