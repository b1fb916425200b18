/** Triangles or vertices between two looks at the clock: about a millisecond. */
const STEP = 20_000;
/** A speck is taken so far beyond the border, as a share of the way to the next one: its rim then bears no line either. Own choice. */
const BEYOND_SHARE = 0.2;

/**
 * Values to draw a map's lines by: those of the map, but specks smaller than `smallestMm` (longest way across their box) are
 * taken over to the side of the border that lies round them. Only lines go by these: bands, readings and what is judged keep
 * to the map's own values. Own method: connected patches on each side of each border.
 *
 * @param values by vertex; NaN: nothing is told there, and patches end
 * @param positions of the vertices, n x 3, mm
 * @param borders rising
 * Cost: four passes over the triangles for each border.
 */
export function* quietLines(
  values: Float32Array,
  positions: Float32Array,
  indices: Uint32Array,
  borders: readonly number[],
  smallestMm: number,
): Generator<void, Float32Array> {
  const out = Float32Array.from(values);
  for (const [i, border] of borders.entries()) {
    const below = border - (borders[i - 1] ?? 2 * border - (borders[i + 1] ?? border + 1));
    const above = (borders[i + 1] ?? border + below) - border;
    // What stands out is taken down first: what then still lies low inside is a hollow of the rest.
    const high = yield* specksOf((v) => out[v] > border, positions, indices, smallestMm);
    for (const v of high) out[v] = Math.min(out[v], border - BEYOND_SHARE * below);
    const low = yield* specksOf((v) => out[v] <= border, positions, indices, smallestMm);
    for (const v of low) out[v] = Math.max(out[v], border + BEYOND_SHARE * above);
  }
  return out;
}

/** Vertices of the connected patches of those that are `within`, where the patch is smaller than `smallestMm`. */
function* specksOf(
  within: (vertex: number) => boolean,
  positions: Float32Array,
  indices: Uint32Array,
  smallestMm: number,
): Generator<void, number[]> {
  const count = positions.length / 3;
  const isIn = new Uint8Array(count);
  const parent = new Int32Array(count);
  for (let v = 0; v < count; v++) {
    isIn[v] = within(v) ? 1 : 0;
    parent[v] = v;
  }
  yield;
  const rootOf = (vertex: number): number => {
    let v = vertex;
    while (parent[v] !== v) {
      parent[v] = parent[parent[v]];
      v = parent[v];
    }
    return v;
  };
  for (let t = 0; t < indices.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = indices[t + k];
      const b = indices[t + ((k + 1) % 3)];
      if (isIn[a] === 1 && isIn[b] === 1) parent[rootOf(a)] = rootOf(b);
    }
    if (t % (3 * STEP) === 0) yield;
  }
  const least = new Float32Array(3 * count).fill(Infinity);
  const most = new Float32Array(3 * count).fill(-Infinity);
  for (let v = 0; v < count; v++) {
    if (isIn[v] === 0) continue;
    const root = rootOf(v);
    for (let k = 0; k < 3; k++) {
      const x = positions[3 * v + k];
      if (x < least[3 * root + k]) least[3 * root + k] = x;
      if (x > most[3 * root + k]) most[3 * root + k] = x;
    }
    if (v % STEP === 0) yield;
  }
  const specks: number[] = [];
  for (let v = 0; v < count; v++) {
    if (isIn[v] === 0) continue;
    const r = 3 * rootOf(v);
    const across = Math.hypot(most[r] - least[r], most[r + 1] - least[r + 1], most[r + 2] - least[r + 2]);
    if (across < smallestMm) specks.push(v);
    if (v % STEP === 0) yield;
  }
  return specks;
}
