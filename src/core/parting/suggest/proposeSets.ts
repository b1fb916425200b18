import type { Checkpoint } from '../../checkpoint.ts';
import { writeTriNormal } from '../../mesh/writeNormal.ts';
import { cutOnce } from './labelPieces.ts';
import type { SuggestGround } from './SuggestGround.ts';
import { costOfSet, type PullSet, screenPullSets, takeDistinct } from './screenPullSets.ts';

/** Sets looked into beside the two plain ones, and how different they must be. Choices. */
const MOST_SETS = 4;
const APART_DEG = 24;
/** Pairs of opposite azimuths looked into, the tilts tried for each, and how different they must be. */
const MOST_RISING_PAIRS = 3;
const TILTS_DEG = [0, 26, 52];
const RISING_APART_DEG = 30;
/** Directions with less height than this (sine) count as horizontal. */
const LEVEL_SINE = 0.01;

/**
 * Sets of directions worth trying for a number of pieces, the plain ones first: for two pieces pairs of opposite azimuths
 * beside the least hidden one, for more the best evenly spaced horizontal ones, alone and with a cap that lifts straight up;
 * then what screening finds. One piece: the direction that costs least.
 */
export async function proposeSets(
  ground: SuggestGround,
  pieceCount: number,
  cp: Checkpoint,
): Promise<PullSet[]> {
  const { costs, directions, graph } = ground;
  if (pieceCount === 1) {
    const single = Array.from(
      { length: directions.length / 3 },
      (_, k): PullSet => ({ pulls: [k], costMm2: costOfSet(costs, graph.count, [k]) }),
    );
    return single.sort((a, b) => a.costMm2 - b.costMm2).slice(0, 1);
  }
  const plain =
    pieceCount === 2
      ? await risingPairs(ground, cp)
      : [evenlySpaced(ground, pieceCount, false), evenlySpaced(ground, pieceCount, true)];
  const sets: PullSet[] = [];
  for (const set of plain) if (set !== null && !sets.some((other) => isSameSet(other, set))) sets.push(set);
  const found = screenPullSets(costs, directions, pieceCount, ground.pairs(), sets, MOST_SETS, APART_DEG);
  for (const set of found) {
    if (!sets.some((other) => isSameSet(other, set))) sets.push(set);
  }
  return sets;
}

const isSameSet = (a: PullSet, b: PullSet): boolean => a.pulls.every((pull, k) => pull === b.pulls[k]);

/**
 * The pair of exactly opposite directions of the grid with the least area that is hidden from both, as published mould work
 * takes it (Alderighi et al. 2019); null when the grid has no such pair. Found at once, so it is tried first.
 */
export function leastHiddenPair(ground: SuggestGround): PullSet | null {
  const { directions, sweep, surface, costs, graph } = ground;
  const areas = new Float64Array(surface.triCount);
  const normal = new Float64Array(3);
  for (let t = 0; t < surface.triCount; t++) {
    if (surface.isSurface[t]) areas[t] = writeTriNormal(surface, t, normal) / 2;
  }
  let best: readonly [number, number] | null = null;
  let least = Infinity;
  for (let i = 0; i < directions.length / 3; i++) {
    const j = oppositeOf(directions, i);
    if (j <= i) continue;
    let hidden = 0;
    for (let t = 0; t < surface.triCount; t++) {
      if (sweep.hidden[i * sweep.faceCount + t] && sweep.hidden[j * sweep.faceCount + t]) hidden += areas[t];
    }
    if (hidden < least) {
      least = hidden;
      best = [i, j];
    }
  }
  return best === null ? null : { pulls: best, costMm2: costOfSet(costs, graph.count, best) };
}

/**
 * Pairs that go apart level or rising alike, one an azimuth with the tilt that costs least; the best by what the surface
 * costs with the line that parts it best: on a body that comes free in many ways the shortest line decides.
 */
async function risingPairs(ground: SuggestGround, cp: Checkpoint): Promise<PullSet[]> {
  const { directions, costs, graph, edges, lineMm } = ground;
  const level = levelDirections(directions).filter((i) => oppositeOf(directions, i) > i);
  const pairs: PullSet[] = [];
  for (const [n, k] of level.entries()) {
    const own = cp.within(n / level.length, (n + 1) / level.length, 'sharing out the pieces');
    const tilted = TILTS_DEG.map((tiltDeg) => {
      const pulls = [
        tiltedFrom(directions, k, tiltDeg),
        tiltedFrom(directions, oppositeOf(directions, k), tiltDeg),
      ];
      return { pulls, costMm2: costOfSet(costs, graph.count, pulls) };
    });
    const { pulls } = tilted.reduce((best, each) => (each.costMm2 < best.costMm2 ? each : best));
    const { costMm2 } = await cutOnce(graph, costs, edges[0], lineMm, pulls, own);
    pairs.push({ pulls, costMm2 });
  }
  return takeDistinct(pairs, directions, MOST_RISING_PAIRS, RISING_APART_DEG);
}

/** The direction of the grid nearest to a level one tilted up. */
function tiltedFrom(directions: Float32Array, level: number, tiltDeg: number): number {
  const cosine = Math.cos((tiltDeg * Math.PI) / 180);
  const x = cosine * directions[3 * level];
  const y = cosine * directions[3 * level + 1];
  const z = Math.sin((tiltDeg * Math.PI) / 180);
  let best = level;
  let most = -Infinity;
  for (let k = 0; k < directions.length / 3; k++) {
    const near = x * directions[3 * k] + y * directions[3 * k + 1] + z * directions[3 * k + 2];
    if (near <= most) continue;
    most = near;
    best = k;
  }
  return best;
}

/** Directions of the grid that neither rise nor fall. */
function levelDirections(directions: Float32Array): number[] {
  const level: number[] = [];
  for (let k = 0; k < directions.length / 3; k++) {
    if (Math.abs(directions[3 * k + 2]) < LEVEL_SINE) level.push(k);
  }
  return level;
}

function oppositeOf(directions: Float32Array, i: number): number {
  for (let j = 0; j < directions.length / 3; j++) {
    const cosine =
      directions[3 * i] * directions[3 * j] +
      directions[3 * i + 1] * directions[3 * j + 1] +
      directions[3 * i + 2] * directions[3 * j + 2];
    if (cosine < -1 + 1e-6) return j;
  }
  return -1;
}

/**
 * Horizontal directions evenly spaced, as nearly as the grid has them, turned so that they cost least; with a cap one fewer
 * and straight up.
 */
function evenlySpaced(
  { directions, costs, graph }: SuggestGround,
  pieceCount: number,
  hasCap: boolean,
): PullSet | null {
  const level = levelDirections(directions);
  let up = -1;
  for (let k = 0; k < directions.length / 3; k++) if (directions[3 * k + 2] > 1 - 1e-6) up = k;
  const sides = hasCap ? pieceCount - 1 : pieceCount;
  let best: PullSet | null = null;
  for (let from = 0; from < Math.ceil(level.length / sides); from++) {
    const pulls = Array.from(
      { length: sides },
      (_, n) => level[(from + Math.round((n * level.length) / sides)) % level.length],
    ).sort((a, b) => a - b);
    if (new Set(pulls).size < sides) return null;
    if (hasCap) pulls.push(up);
    const costMm2 = costOfSet(costs, graph.count, pulls);
    if (best === null || costMm2 < best.costMm2) best = { pulls, costMm2 };
  }
  return best;
}
