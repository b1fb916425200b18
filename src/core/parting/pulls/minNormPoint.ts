/** The point of a convex hull that lies nearest to the origin. */
export interface MinNormPoint {
  /** `dim` numbers. */
  readonly point: Float64Array;
  /** Its distance from the origin; exactly 0 when the hull holds the origin (to rounding). */
  readonly norm: number;
  /** Indices of the vectors whose hull holds the point, at most dim + 1 of them. */
  readonly corners: readonly number[];
}

/** Products this small beside the square of the longest vector are rounding. */
const ROUNDING_SHARE = 1e-13;
/** Every round brings in one vector; small sets end after about ten, and each round comes strictly nearer. */
const MOST_ROUNDS = 1000;

/**
 * The nearest point to the origin of the convex hull of `vectors`, n x dim, n > 0.
 *
 * For unit normals its direction is the centre of the smallest cap that holds them, and its norm the cosine of the cap's
 * half angle. Source: P. Wolfe, Finding the nearest point in a polytope, Mathematical Programming 11 (1976): a small set of
 * corners is kept; the vector that reaches furthest towards the origin joins it; corners whose weight falls to zero leave.
 * Cost: O(n dim) a round, about 10 to 30 rounds. Throws RangeError -> no vector, or one that is not `dim` long.
 */
export function minNormPoint(vectors: Float64Array, dim: number): MinNormPoint {
  const count = vectors.length / dim;
  if (!(count >= 1) || !Number.isInteger(count)) {
    throw new RangeError(`minNormPoint: ${vectors.length} numbers are not one or more vectors of ${dim}.`);
  }
  let longest = 0;
  let nearest = 0;
  let nearestSquare = Infinity;
  for (let i = 0; i < count; i++) {
    let square = 0;
    for (let k = 0; k < dim; k++) square += vectors[i * dim + k] ** 2;
    longest = Math.max(longest, square);
    if (square < nearestSquare) {
      nearestSquare = square;
      nearest = i;
    }
  }
  const rounding = ROUNDING_SHARE * longest;
  const x = vectors.slice(nearest * dim, nearest * dim + dim);
  let corners = [nearest];
  let weights = [1];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let square = 0;
    for (let k = 0; k < dim; k++) square += x[k] * x[k];
    if (square <= rounding) {
      x.fill(0);
      break;
    }
    const next = lowestAlong(vectors, dim, x);
    let reach = 0;
    for (let k = 0; k < dim; k++) reach += x[k] * vectors[next * dim + k];
    if (reach >= square - rounding || corners.includes(next)) break;
    corners.push(next);
    weights.push(0);
    for (;;) {
      const affine = nearestOfPlane(vectors, dim, corners);
      // Corners that lie in one plane of too few dimensions: the newest adds nothing.
      if (affine === null) {
        corners.pop();
        weights.pop();
        break;
      }
      let step = 1;
      for (let i = 0; i < corners.length; i++) {
        if (affine[i] <= 0) step = Math.min(step, weights[i] / (weights[i] - affine[i]));
      }
      weights = weights.map((w, i) => w + step * (affine[i] - w));
      if (step >= 1) break;
      const stays = weights.map((w, i) => w > 1e-14 || affine[i] > 0);
      // At least the corner that set the step goes, whatever rounding made of its weight.
      if (stays.every((s) => s)) stays[weights.indexOf(Math.min(...weights))] = false;
      corners = corners.filter((_, i) => stays[i]);
      weights = weights.filter((_, i) => stays[i]);
      const sum = weights.reduce((a, b) => a + b, 0);
      weights = weights.map((w) => w / sum);
    }
    const before = square;
    square = 0;
    for (let k = 0; k < dim; k++) {
      let at = 0;
      for (let i = 0; i < corners.length; i++) at += weights[i] * vectors[corners[i] * dim + k];
      x[k] = at;
      square += at * at;
    }
    if (!(square < before)) break;
  }
  let norm = 0;
  for (let k = 0; k < dim; k++) norm += x[k] * x[k];
  return { point: x, norm: Math.sqrt(norm), corners };
}

function lowestAlong(vectors: Float64Array, dim: number, x: Float64Array): number {
  let lowest = Infinity;
  let at = 0;
  for (let i = 0, j = 0; j < vectors.length; i++) {
    let reach = 0;
    for (let k = 0; k < dim; k++, j++) reach += x[k] * vectors[j];
    if (reach < lowest) {
      lowest = reach;
      at = i;
    }
  }
  return at;
}

/**
 * Weights (of sum 1, of any sign) of the point of the plane through the corners that is nearest to the origin; null when
 * the corners are not independent. Solves (G + 1 1') u = 1 for the corners' products G and scales u, as Wolfe does.
 */
function nearestOfPlane(vectors: Float64Array, dim: number, corners: readonly number[]): number[] | null {
  const n = corners.length;
  if (n > dim + 1) return null;
  let scale = 0;
  const rows = corners.map((a) =>
    corners.map((b) => {
      let product = 0;
      for (let k = 0; k < dim; k++) product += vectors[a * dim + k] * vectors[b * dim + k];
      scale = Math.max(scale, Math.abs(product));
      return product;
    }),
  );
  // In units of the products, so that the added ones weigh as much as they do.
  const system = rows.map((row) => [...row.map((product) => product / scale + 1), 1]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(system[r][c]) > Math.abs(system[pivot][c])) pivot = r;
    if (Math.abs(system[pivot][c]) < 1e-13) return null;
    [system[c], system[pivot]] = [system[pivot], system[c]];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = system[r][c] / system[c][c];
      for (let k = c; k <= n; k++) system[r][k] -= f * system[c][k];
    }
  }
  const u = system.map((row, i) => row[n] / row[i]);
  const sum = u.reduce((a, b) => a + b, 0);
  return sum > 0 ? u.map((w) => w / sum) : null;
}
