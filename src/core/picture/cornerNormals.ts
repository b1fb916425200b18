import { vectorLength } from '../mesh/vectorLength.ts';
import { writeNormal } from '../mesh/writeNormal.ts';

/**
 * Cosine of the angle between a face and the mean of its vertex beyond which the edge is taken as sharp and the face keeps
 * its own normal: about 40 degrees, so that a scan's facets run into each other and a block keeps its edges. Own choice.
 */
const SHARP_COS = 0.77;

/** Unit normals for shading: by vertex, weighted by area, and by face; `cornerNormal` says which one a corner takes. */
export interface CornerNormals {
  readonly vert: Float32Array;
  readonly face: Float32Array;
}

/** O(n). A triangle without area has the normal 0 0 0. */
export function cornerNormals(positions: Float64Array, indices: Uint32Array): CornerNormals {
  const vert = new Float32Array(positions.length);
  const face = new Float32Array(indices.length);
  const normal = new Float64Array(3);
  for (let t = 0; t < indices.length; t += 3) {
    writeNormal(positions, indices[t], indices[t + 1], indices[t + 2], normal);
    for (let c = 0; c < 3; c++) {
      const v = 3 * indices[t + c];
      vert[v] += normal[0];
      vert[v + 1] += normal[1];
      vert[v + 2] += normal[2];
    }
    face.set(normal, t);
  }
  makeUnit(vert);
  makeUnit(face);
  return { vert, face };
}

/** True when the corner is shaded by its vertex, false when by its face. `face` and `vert` are offsets of three numbers. */
export function isSmoothCorner(normals: CornerNormals, face: number, vert: number): boolean {
  const { vert: v, face: f } = normals;
  return v[vert] * f[face] + v[vert + 1] * f[face + 1] + v[vert + 2] * f[face + 2] > SHARP_COS;
}

function makeUnit(vectors: Float32Array): void {
  for (let i = 0; i < vectors.length; i += 3) {
    const length = vectorLength(vectors[i], vectors[i + 1], vectors[i + 2]);
    if (length === 0) continue;
    vectors[i] /= length;
    vectors[i + 1] /= length;
    vectors[i + 2] /= length;
  }
}
