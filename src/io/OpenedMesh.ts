import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';

/** What a loader hands back: the mesh in the file's own unit and axes, nothing repaired. */
export interface OpenedMesh {
  readonly mesh: TriMesh;
  /** For people: "STL binary", "PLY ASCII", ... */
  readonly format: string;
  /** What the reader passed over or split; empty for a plain file. */
  readonly notes: readonly ScanNote[];
}
