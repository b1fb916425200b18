import type { Vec3 } from '../../mesh/TriMesh.ts';

/** What a point of a line can snap to: a ridge of the surface, the silhouette for a pull, the rim on the board. */
export type SnapTo = 'ridge' | 'silhouette' | 'board';

/** A point of the surface, and what it snapped to; null: nothing was near, the point is as it was given. */
export interface SnappedPoint {
  readonly point: Vec3;
  readonly to: SnapTo | null;
}
