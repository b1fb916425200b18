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
  for (let t = 0; t < indices.length; t += 3) {
    const i = 3 * indices[t];
    const j = 3 * indices[t + 1];
    const k = 3 * indices[t + 2];
    const ax = positions[j] - positions[i];
    const ay = positions[j + 1] - positions[i + 1];
    const az = positions[j + 2] - positions[i + 2];
    const bx = positions[k] - positions[i];
    const by = positions[k + 1] - positions[i + 1];
    const bz = positions[k + 2] - positions[i + 2];
    const nx = ay * bz - az * by;
    const ny = az * bx - ax * bz;
    const nz = ax * by - ay * bx;
    for (let c = 0; c < 3; c++) {
      const v = 3 * indices[t + c];
      vert[v] += nx;
      vert[v + 1] += ny;
      vert[v + 2] += nz;
    }
    face[t] = nx;
    face[t + 1] = ny;
    face[t + 2] = nz;
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
    const length = Math.hypot(vectors[i], vectors[i + 1], vectors[i + 2]);
    if (length === 0) continue;
    vectors[i] /= length;
    vectors[i + 1] /= length;
    vectors[i + 2] /= length;
  }
}
