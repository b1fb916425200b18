/**
 * Evens out four signed bytes a vertex (see DepthMaps.sample) over the surface: each pass replaces a vertex by the mean of
 * itself and its neighbours. The maps are coarse, and a cast shade with their steps in it looks like dirt on the clay.
 * Across a sharp edge nothing flows, since its two sides have vertices of their own. Works in place, in steps of a few
 * milliseconds; `aperture` is changed by the last.
 * @param aperture n x 4
 * @param indices triCount x 3
 * Cost: one pass over the edges for each pass.
 */
export function* smoothAperture(aperture: Int8Array, indices: Uint32Array, passes: number): Generator<void> {
  const n = aperture.length / 4;
  // Not `from`, which asks for one value after the other.
  const from = new Float32Array(aperture);
  yield;
  const sum = new Float32Array(aperture.length);
  const weight = new Float32Array(n);
  for (let pass = 0; pass < passes; pass++) {
    sum.set(from);
    weight.fill(1);
    yield;
    for (let t = 0; t < indices.length; t += STEP_INDICES) {
      addNeighbours(from, indices, t, Math.min(t + STEP_INDICES, indices.length), sum, weight);
      yield;
    }
    for (let v = 0; v < n; v += STEP_VERTS) {
      divide(sum, weight, from, v, Math.min(v + STEP_VERTS, n));
      yield;
    }
  }
  for (let v = 0; v < n; v += STEP_VERTS) {
    round(from, aperture, v, Math.min(v + STEP_VERTS, n));
    yield;
  }
}

/** Indices served between two looks at the clock: about 2 ms. */
const STEP_INDICES = 3 * 15_000;
/** Vertices, likewise. */
const STEP_VERTS = 100_000;

function addNeighbours(
  from: Float32Array,
  indices: Uint32Array,
  start: number,
  end: number,
  sum: Float32Array,
  weight: Float32Array,
): void {
  for (let t = start; t < end; t += 3) {
    for (let k = 0; k < 3; k++) {
      // Each edge is met once from either facet, so both of its ends are served.
      const a = indices[t + k];
      const b = indices[t + ((k + 1) % 3)];
      weight[a]++;
      weight[b]++;
      for (let c = 0; c < 4; c++) {
        sum[4 * a + c] += from[4 * b + c];
        sum[4 * b + c] += from[4 * a + c];
      }
    }
  }
}

function divide(
  sum: Float32Array,
  weight: Float32Array,
  out: Float32Array,
  start: number,
  end: number,
): void {
  for (let i = 4 * start; i < 4 * end; i++) out[i] = sum[i] / weight[i >> 2];
}

function round(from: Float32Array, out: Int8Array, start: number, end: number): void {
  for (let i = 4 * start; i < 4 * end; i++) out[i] = Math.round(from[i]);
}
