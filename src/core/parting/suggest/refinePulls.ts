import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import { sweepFaces } from '../pulls/sweepFaces.ts';
import type { SuggestGround } from './SuggestGround.ts';
import { tabulateCosts } from './tabulateCosts.ts';

/** First step to the neighbours tried: that of the grid; then half of it, and half again. */
const FIRST_STEP_DEG = 13;
const ROUNDS = 3;
/** Of pulls that clear a piece alike the one that its faces face most has the best draft. */
const TURN_WEIGHT = 0.1;
/** Directions tried round the present one. */
const AROUND = 6;
/** A pull is changed only when the piece's cost falls by this share: a pull straight along the grid is easier to keep to. */
const LEAST_GAIN = 0.03;

/**
 * Better pulls near those of a grid, for pieces as they are: each piece's pull steps to the neighbour in which its faces
 * cost least, with smaller and smaller steps. No pull goes down where there is a board.
 *
 * @param labels by vertex its piece. Returns unit vectors, by piece. Cancels at its checkpoint.
 * Cost: ROUNDS x (AROUND + 1) looks a piece.
 */
export async function refinePulls(
  ground: SuggestGround,
  labels: Int32Array,
  pulls: readonly Vec3[],
  cp: Checkpoint,
): Promise<Vec3[]> {
  const { surface, plan, graph } = ground;
  let best = pulls.map((pull): Vec3 => [pull[0], pull[1], pull[2]]);
  let stepDeg = FIRST_STEP_DEG;
  for (let round = 0; round < ROUNDS; round++, stepDeg /= 2) {
    const own = cp.within(round / ROUNDS, (round + 1) / ROUNDS, 'fitting the pulls');
    const tried = best.map((pull) => [pull, ...neighboursOf(pull, stepDeg, surface.standsOnBoard)]);
    const directions = Float32Array.from(tried.flat(2));
    const sweep = await sweepFaces(surface, directions, own, surface.standsOnBoard);
    const costs = tabulateCosts(
      surface,
      directions,
      sweep,
      plan.parting.rubberGiveMm,
      graph.count,
      TURN_WEIGHT,
    );
    let row = 0;
    best = tried.map((choices, piece) => {
      let least = Infinity;
      let chosen = choices[0];
      for (const [n, choice] of choices.entries()) {
        const from = graph.count * row++;
        let sum = 0;
        for (let v = 0; v < graph.count; v++) if (labels[v] === piece) sum += costs[from + v];
        if (n === 0 || sum < least * (1 - LEAST_GAIN)) {
          least = sum;
          chosen = choice;
        }
      }
      return chosen;
    });
  }
  return best;
}

/** Unit vectors at an angle from a direction, all round; those that would go down onto a board are left out. */
function neighboursOf(pull: Vec3, stepDeg: number, standsOnBoard: boolean): Vec3[] {
  const [x, y, z] = pull;
  const level = Math.hypot(x, y);
  const u: Vec3 = level > 1e-6 ? [-y / level, x / level, 0] : [1, 0, 0];
  const v: Vec3 = [y * u[2] - z * u[1], z * u[0] - x * u[2], x * u[1] - y * u[0]];
  const cosine = Math.cos((stepDeg * Math.PI) / 180);
  const sine = Math.sin((stepDeg * Math.PI) / 180);
  const around: Vec3[] = [];
  for (let i = 0; i < AROUND; i++) {
    const a = Math.cos((2 * Math.PI * i) / AROUND) * sine;
    const b = Math.sin((2 * Math.PI * i) / AROUND) * sine;
    const near: Vec3 = [0, 1, 2].map((k) => cosine * pull[k] + a * u[k] + b * v[k]) as unknown as Vec3;
    // Rounding must not turn a level pull into one that goes down.
    if (standsOnBoard && near[2] < -1e-9) continue;
    around.push([near[0], near[1], standsOnBoard ? Math.max(0, near[2]) : near[2]]);
  }
  return around;
}
