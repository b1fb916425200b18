import { buildTwins } from '../mesh/buildTwins.ts';
import { compactVerts } from '../mesh/compactVerts.ts';
import { dropDegenerate } from '../mesh/dropDegenerate.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';

/** Without faces that have no area, when that leaves the mesh closed; the solid library leaves some where surfaces all but touch. */
export function soundMesh(mesh: TriMesh): TriMesh {
  const cleaned = compactVerts(dropDegenerate(mesh).mesh);
  if (cleaned === mesh) return mesh;
  const { openEdges, nonManifoldEdges } = buildTwins(cleaned.indices);
  return openEdges + nonManifoldEdges === 0 ? cleaned : mesh;
}
