/** A surface cut out of a larger one: its vertices, its triangles, and of which triangle each is a part. */
export interface CutPart {
  readonly positions: ArrayLike<number>;
  readonly indices: ArrayLike<number>;
  /** By triangle of the part: triangle of the whole. */
  readonly sources: ArrayLike<number>;
}

/** Weights below this are a corner's own rounding: a corner of the whole has its value alone, also beside an endless one. */
const NO_WEIGHT = 1e-5;

/**
 * Values known at the vertices of a whole mesh, at the corners of a part cut out of it: linear over each triangle of the
 * whole. Infinity and NaN spread to what hangs on them.
 *
 * @param values by vertex of the whole
 * @returns 3 x triangles of the part. Cost: linear.
 */
export function valuesAtCorners(
  whole: { readonly positions: ArrayLike<number>; readonly indices: ArrayLike<number> },
  values: ArrayLike<number>,
  part: CutPart,
): Float32Array {
  const { positions: p, indices } = whole;
  const out = new Float32Array(part.indices.length);
  const weights = new Float64Array(3);
  for (let t = 0; t < part.sources.length; t++) {
    const source = 3 * part.sources[t];
    for (let k = 0; k < 3; k++) {
      const at = 3 * part.indices[3 * t + k];
      writeWeights(
        p,
        indices,
        source,
        part.positions[at],
        part.positions[at + 1],
        part.positions[at + 2],
        weights,
      );
      let value = 0;
      for (let j = 0; j < 3; j++) {
        if (Math.abs(weights[j]) > NO_WEIGHT) value += weights[j] * values[indices[source + j]];
      }
      out[3 * t + k] = value;
    }
  }
  return out;
}

/** Barycentric weights of a point of a triangle's plane; a triangle without area counts by its first corner. */
export function writeWeights(
  p: ArrayLike<number>,
  indices: ArrayLike<number>,
  first: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): void {
  const a = 3 * indices[first];
  const b = 3 * indices[first + 1];
  const c = 3 * indices[first + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const wx = x - p[a];
  const wy = y - p[a + 1];
  const wz = z - p[a + 2];
  const uu = ux * ux + uy * uy + uz * uz;
  const vv = vx * vx + vy * vy + vz * vz;
  const uv = ux * vx + uy * vy + uz * vz;
  const wu = wx * ux + wy * uy + wz * uz;
  const wv = wx * vx + wy * vy + wz * vz;
  const det = uu * vv - uv * uv;
  out[1] = det > 0 ? (wu * vv - wv * uv) / det : 0;
  out[2] = det > 0 ? (wv * uu - wu * uv) / det : 0;
  out[0] = 1 - out[1] - out[2];
}
