/** Two directions of one set stand at least so far apart, or their pieces would be one. A choice. */
const LEAST_APART_DEG = 40;
/** Rounds in which each direction of a set is changed for the best other. */
const MOST_ROUNDS = 4;
/** How many pairs are tried as the beginning of larger sets, beside those given. */
const STARTS = 4;

/** A set of pulls, as indices of directions in rising order, and what it costs, mm2. */
export interface PullSet {
  readonly pulls: readonly number[];
  readonly costMm2: number;
}

/**
 * Sets of `pieceCount` directions that look promising: the costs of all vertices, each in its cheapest pull, lines left out of
 * account. Larger sets grow from the best pairs by the best further direction; each of their
 * directions, and of the sets given, is then changed for a better one as long as there is one.
 *
 * @param costs of `tabulateCosts`: directions x vertCount. @param directions n x 3 unit vectors.
 * @param pairs of `screenPairs`. @param given sets of that many directions to begin with.
 * @param mostSets how many are wanted; each differs from the ones before by at least `apartDeg` in some direction.
 * @returns the cheapest first. Cost: O(directions x vertices) a change of a direction.
 */
export function screenPullSets(
  costs: Float32Array,
  directions: Float32Array,
  pieceCount: number,
  pairs: readonly PullSet[],
  given: readonly PullSet[],
  mostSets: number,
  apartDeg: number,
): PullSet[] {
  const vertCount = costs.length / (directions.length / 3);
  const found: PullSet[] = [];
  if (pieceCount === 2) found.push(...pairs);
  else {
    const starts = [...takeDistinct(pairs, directions, STARTS, apartDeg), ...given];
    for (const start of starts) {
      let set: number[] = [...start.pulls];
      while (set.length < pieceCount) {
        const next = bestFurther(costs, directions, vertCount, set);
        if (next < 0) break;
        set.push(next);
      }
      if (set.length < pieceCount) continue;
      set = changeForBetter(costs, directions, vertCount, set);
      set.sort((a, b) => a - b);
      found.push({ pulls: set, costMm2: costOfSet(costs, vertCount, set) });
    }
  }
  return takeDistinct(found, directions, mostSets, apartDeg);
}

/** Sum over the vertices of the least cost among the pulls of the set, mm2. */
export function costOfSet(costs: Float32Array, vertCount: number, pulls: readonly number[]): number {
  const least = leastCosts(costs, vertCount, pulls);
  let sum = 0;
  for (let v = 0; v < vertCount; v++) sum += least[v];
  return sum;
}

/** The cheapest first; of sets that are nearly the same only the cheapest. */
export function takeDistinct(
  sets: readonly PullSet[],
  directions: Float32Array,
  most: number,
  apartDeg: number,
): PullSet[] {
  const sorted = [...sets].sort((a, b) => a.costMm2 - b.costMm2);
  const taken: PullSet[] = [];
  const cosine = Math.cos((apartDeg * Math.PI) / 180);
  for (const set of sorted) {
    if (taken.length === most) break;
    if (taken.every((other) => !isNearlySame(set.pulls, other.pulls, directions, cosine))) taken.push(set);
  }
  return taken;
}

/** Every direction of one has one of the other nearby. */
function isNearlySame(
  a: readonly number[],
  b: readonly number[],
  directions: Float32Array,
  cosine: number,
): boolean {
  if (a.length !== b.length) return false;
  return (
    a.every((i) => b.some((j) => cosineOf(directions, i, j) > cosine)) &&
    b.every((i) => a.some((j) => cosineOf(directions, i, j) > cosine))
  );
}

/** Every pair of directions that stand far enough apart, with its cost. Cost: O(directions^2 x vertices / 2). */
export function screenPairs(costs: Float32Array, directions: Float32Array): PullSet[] {
  const count = directions.length / 3;
  const vertCount = costs.length / count;
  const pairs: PullSet[] = [];
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; j++) {
      if (!areApart(directions, i, j)) continue;
      pairs.push({ pulls: [i, j], costMm2: costOfPair(costs, vertCount, i, j) });
    }
  }
  return pairs;
}

function costOfPair(costs: Float32Array, vertCount: number, i: number, j: number): number {
  const a = i * vertCount;
  const b = j * vertCount;
  let sum = 0;
  for (let v = 0; v < vertCount; v++) {
    sum += Math.min(costs[a + v], costs[b + v]);
  }
  return sum;
}

function leastCosts(costs: Float32Array, vertCount: number, pulls: readonly number[]): Float32Array {
  const least = costs.slice(pulls[0] * vertCount, (pulls[0] + 1) * vertCount);
  for (let n = 1; n < pulls.length; n++) {
    const row = pulls[n] * vertCount;
    for (let v = 0; v < vertCount; v++) if (costs[row + v] < least[v]) least[v] = costs[row + v];
  }
  return least;
}

/** The direction that lowers the set's cost most; -1 when none stands far enough from all of the set. */
function bestFurther(
  costs: Float32Array,
  directions: Float32Array,
  vertCount: number,
  set: readonly number[],
): number {
  const least = leastCosts(costs, vertCount, set);
  let best = -1;
  let bestSum = Infinity;
  for (let k = 0; k < directions.length / 3; k++) {
    if (!set.every((other) => areApart(directions, k, other))) continue;
    const row = k * vertCount;
    let sum = 0;
    for (let v = 0; v < vertCount; v++) sum += Math.min(costs[row + v], least[v]);
    if (sum < bestSum) {
      bestSum = sum;
      best = k;
    }
  }
  return best;
}

function changeForBetter(
  costs: Float32Array,
  directions: Float32Array,
  vertCount: number,
  start: readonly number[],
): number[] {
  const set = [...start];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let isChanged = false;
    for (let n = 0; n < set.length; n++) {
      const others = set.filter((_, m) => m !== n);
      const better = bestFurther(costs, directions, vertCount, others);
      if (better >= 0 && better !== set[n]) {
        set[n] = better;
        isChanged = true;
      }
    }
    if (!isChanged) break;
  }
  return set;
}

function areApart(directions: Float32Array, i: number, j: number): boolean {
  return cosineOf(directions, i, j) < Math.cos((LEAST_APART_DEG * Math.PI) / 180);
}

function cosineOf(directions: Float32Array, i: number, j: number): number {
  return (
    directions[3 * i] * directions[3 * j] +
    directions[3 * i + 1] * directions[3 * j + 1] +
    directions[3 * i + 2] * directions[3 * j + 2]
  );
}
