import type { TriMesh } from '../../mesh/TriMesh.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';

/** By face of a mesh: what every direction's figures are summed from. */
export interface FaceMeasures {
  /** n x 3 unit vectors; zero for a face without area. */
  readonly normals: Float64Array;
  readonly areaMm2: Float64Array;
  /** n x 3, mm. */
  readonly middles: Float64Array;
}

/** Normals, areas and middles of all faces. O(n). */
export function measureFaces(mesh: TriMesh): FaceMeasures {
  const { positions: p, indices } = mesh;
  const count = indices.length / 3;
  const normals = new Float64Array(3 * count);
  const areaMm2 = new Float64Array(count);
  const middles = new Float64Array(3 * count);
  const scratch = new Float64Array(3);
  for (let t = 0; t < count; t++) {
    const length = writeTriNormal(mesh, t, scratch);
    areaMm2[t] = length / 2;
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    for (let k = 0; k < 3; k++) {
      normals[3 * t + k] = length > 0 ? scratch[k] / length : 0;
      middles[3 * t + k] = (p[a + k] + p[b + k] + p[c + k]) / 3;
    }
  }
  return { normals, areaMm2, middles };
}
