import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { ScanNote } from '../core/PlanResult.ts';
import type { LengthUnit } from '../core/plan/PlanDocument.ts';

/** What a loader hands back: the mesh in the file's own unit and axes, nothing repaired. */
export interface OpenedMesh {
  readonly mesh: TriMesh;
  /** For people: "STL binary", "PLY ASCII", ... */
  readonly format: string;
  /** The unit that the file or its format names; absent: it names none. */
  readonly unit?: LengthUnit;
  /** What the reader passed over or split; empty for a plain file. */
  readonly notes: readonly ScanNote[];
}
