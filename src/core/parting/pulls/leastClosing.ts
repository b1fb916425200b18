/** The twist under which contacts close least, and by how much the worst still closes. */
export interface LeastClosing {
  /** Six numbers, the largest of them 1 or -1. */
  readonly twist: Float64Array;
  /** Least speed at which a contact opens under it: above 0 all open; 0 some slide; below 0 some close. */
  readonly opening: number;
}

const DIM = 6;
/** A column comes in when it gains more than this; below it rounding would go round in circles. */
const LEAST_GAIN = 1e-10;
const LEAST_PIVOT = 1e-11;
/** The simplex ends after some 20 to 60 steps; one that does not is stopped, and its twist is good but not best. */
const MOST_STEPS = 400;

/**
 * Of all twists but the one that is none, that under which the worst contact opens fastest (or closes slowest).
 *
 * `contacts`: n x 6, n > 0 (contactTwists.ts). Twists are measured by their largest number: one of the six is held at 1 or
 * -1 in turn, the others between, which makes twelve linear programs; the best of the twelve answers. Each is solved in its
 * dual by the revised simplex method (G. Dantzig, Linear Programming and Extensions, 1963), whose bases are only 6 x 6. The
 * opening is measured anew on the twist found, so that it holds whatever the simplex made of it.
 *
 * With the opening at 0 the piece is held but may slide along itself; below 0 nothing small moves it at all. Zero-draft
 * rims and rounding land near 0: the caller decides what is small. Cost: some 12 x 40 x 6 n multiplications.
 */
export function leastClosing(contacts: Float64Array): LeastClosing {
  let best: LeastClosing | null = null;
  for (let held = 0; held < DIM; held++) {
    for (const sign of [1, -1]) {
      const twist = solveHeld(contacts, held, sign);
      const opening = leastProduct(contacts, twist);
      if (best === null || opening > best.opening) best = { twist, opening };
    }
  }
  if (best === null) throw new RangeError('leastClosing: no twist was tried.');
  return best;
}

/** Columns of the dual: contacts 0..n-1, then for each free number a_j (n + j) and b_j (n + 6 + j). */
function solveHeld(contacts: Float64Array, held: number, sign: number): Float64Array {
  const count = contacts.length / DIM;
  const free = [0, 1, 2, 3, 4, 5].filter((j) => j !== held);
  const costOf = (column: number): number => (column < count ? sign * contacts[DIM * column + held] : 1);
  const columnOf = (column: number): number[] => {
    if (column < count) return [1, ...free.map((j) => contacts[DIM * column + j])];
    const j = (column - count) % DIM;
    return [0, ...free.map((k) => (k === j ? (column < count + DIM ? -1 : 1) : 0))];
  };
  let first = 0;
  for (let i = 1; i < count; i++) if (costOf(i) < costOf(first)) first = i;
  const basis = [first, ...free.map((j) => (contacts[DIM * first + j] >= 0 ? count + j : count + DIM + j))];
  const y = new Float64Array(DIM);
  for (let step = 0; step < MOST_STEPS; step++) {
    const columns = basis.map(columnOf);
    const prices = solve(columns, basis.map(costOf));
    const amounts = solve(transposed(columns), [1, 0, 0, 0, 0, 0]);
    if (prices === null || amounts === null) break;
    y.set(prices);
    const entering = cheapestColumn(contacts, held, sign, free, y);
    if (entering < 0) break;
    const change = solve(transposed(columns), columnOf(entering));
    if (change === null) break;
    let leaving = -1;
    let least = Infinity;
    for (let r = 0; r < DIM; r++) {
      if (change[r] <= LEAST_PIVOT) continue;
      const ratio = Math.max(0, amounts[r]) / change[r];
      if (ratio < least) {
        least = ratio;
        leaving = r;
      }
    }
    if (leaving < 0) break;
    basis[leaving] = entering;
  }
  const twist = new Float64Array(DIM);
  twist[held] = sign;
  for (let r = 0; r < free.length; r++) twist[free[r]] = Math.max(-1, Math.min(1, -y[r + 1]));
  return twist;
}

/** The column whose price falls short the most, or -1 when none does. */
function cheapestColumn(
  contacts: Float64Array,
  held: number,
  sign: number,
  free: readonly number[],
  y: Float64Array,
): number {
  const count = contacts.length / DIM;
  let least = -LEAST_GAIN;
  let at = -1;
  const weights = new Float64Array(DIM);
  weights[held] = sign;
  for (let r = 0; r < free.length; r++) weights[free[r]] = -y[r + 1];
  for (let i = 0, c = 0; i < count; i++, c += DIM) {
    const gain =
      weights[0] * contacts[c] +
      weights[1] * contacts[c + 1] +
      weights[2] * contacts[c + 2] +
      weights[3] * contacts[c + 3] +
      weights[4] * contacts[c + 4] +
      weights[5] * contacts[c + 5] -
      y[0];
    if (gain < least) {
      least = gain;
      at = i;
    }
  }
  for (let r = 0; r < free.length; r++) {
    if (1 + y[r + 1] < least) {
      least = 1 + y[r + 1];
      at = count + free[r];
    }
    if (1 - y[r + 1] < least) {
      least = 1 - y[r + 1];
      at = count + DIM + free[r];
    }
  }
  return at;
}

function leastProduct(contacts: Float64Array, twist: Float64Array): number {
  let least = Infinity;
  for (let c = 0; c < contacts.length; c += DIM) {
    let product = 0;
    for (let k = 0; k < DIM; k++) product += twist[k] * contacts[c + k];
    if (product < least) least = product;
  }
  return least;
}

const transposed = (rows: readonly number[][]): number[][] =>
  rows[0].map((_, k) => rows.map((row) => row[k]));

/** The x with sum over k of rows[r][k] x[k] = right[r]; null when the rows depend on each other. */
function solve(rows: readonly number[][], right: readonly number[]): number[] | null {
  const n = right.length;
  const m = rows.map((row, r) => [...row, right[r]]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(m[r][c]) > Math.abs(m[pivot][c])) pivot = r;
    if (Math.abs(m[pivot][c]) < 1e-13) return null;
    [m[c], m[pivot]] = [m[pivot], m[c]];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const f = m[r][c] / m[c][c];
      if (f !== 0) for (let k = c; k <= n; k++) m[r][k] -= f * m[c][k];
    }
  }
  return m.map((row, r) => row[n] / row[r]);
}
