import { BallGrid } from '../field/BallGrid.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import type { LineChain } from './chainSegments.ts';

/** Shorter runs, as a share of a chain, are rounding at a border. */
const NO_LENGTH_SHARE = 1e-9;

/**
 * What of the lines lies off the areas that are kept clear: each chain as the runs outside every ball, cut exactly at their
 * borders; the chain itself where no ball touches it. There no wall is set, no flange laid, and nothing bolted.
 * A run that goes on over a closed chain's first point is one. Cost: points times the balls near them.
 */
export function leaveLinesClear(
  chains: readonly LineChain[],
  keepClear: readonly AreaBall[],
): readonly LineChain[] {
  if (keepClear.length === 0) return chains;
  const grid = new BallGrid(keepClear);
  return chains.flatMap((chain) => runsOf(chain, grid));
}

interface Run {
  readonly points: number[];
  readonly segments: number[];
}

function runsOf(chain: LineChain, grid: BallGrid): LineChain[] {
  const { points: p, segments } = chain;
  const runs: Run[] = [];
  let isOn = false;
  let isCut = false;
  for (let n = 0; n < segments.length; n++) {
    const at = (k: number, share: number): number => p[3 * n + k] + share * (p[3 * n + 3 + k] - p[3 * n + k]);
    const shares = openShares(p, n, grid);
    if (shares.length !== 2 || shares[0] !== 0 || shares[1] !== 1) isCut = true;
    for (let i = 0; i < shares.length; i += 2) {
      const [from, to] = [shares[i], shares[i + 1]];
      if (!(isOn && from === 0)) runs.push({ points: [at(0, from), at(1, from), at(2, from)], segments: [] });
      const run = runs[runs.length - 1];
      run.points.push(at(0, to), at(1, to), at(2, to));
      run.segments.push(segments[n]);
      isOn = to === 1;
    }
    if (shares.length === 0) isOn = false;
  }
  if (!isCut) return [chain];
  const first = runs[0];
  const last = runs[runs.length - 1];
  const goesRound =
    chain.isClosed && isOn && runs.length > 1 && [0, 1, 2].every((k) => first.points[k] === p[k]);
  if (goesRound) {
    last.points.push(...first.points.slice(3));
    last.segments.push(...first.segments);
    runs.shift();
  }
  return runs
    .map((run) => ({
      ...chain,
      points: Float64Array.from(run.points),
      segments: Int32Array.from(run.segments),
      isClosed: false,
      lengthMm: lengthOf(run.points),
    }))
    .filter(({ lengthMm }) => lengthMm > NO_LENGTH_SHARE * chain.lengthMm);
}

/** Shares 0..1 of a segment from which to which it lies outside every ball, in order: from, to, from, to, ... */
function openShares(p: Float64Array, n: number, grid: BallGrid): number[] {
  const [ax, ay, az, bx, by, bz] = p.subarray(3 * n, 3 * n + 6);
  const near = grid.near(
    Math.min(ax, bx),
    Math.min(ay, by),
    Math.min(az, bz),
    Math.max(ax, bx),
    Math.max(ay, by),
    Math.max(az, bz),
  );
  const inside: [number, number][] = [];
  for (const ball of near) {
    const { centreMm, radiusMm } = grid.balls[ball];
    const [ux, uy, uz] = [bx - ax, by - ay, bz - az];
    const [wx, wy, wz] = [ax - centreMm[0], ay - centreMm[1], az - centreMm[2]];
    // |w + s u|^2 = r^2.
    const uu = ux * ux + uy * uy + uz * uz;
    const half = ux * wx + uy * wy + uz * wz;
    const root = half * half - uu * (wx * wx + wy * wy + wz * wz - radiusMm * radiusMm);
    if (!(uu > 0 && root > 0)) continue;
    const from = Math.max(0, (-half - Math.sqrt(root)) / uu);
    const to = Math.min(1, (-half + Math.sqrt(root)) / uu);
    if (from < to) inside.push([from, to]);
  }
  inside.sort((a, b) => a[0] - b[0]);
  const open: number[] = [];
  let done = 0;
  for (const [from, to] of inside) {
    if (from > done) open.push(done, from);
    done = Math.max(done, to);
  }
  if (done < 1) open.push(done, 1);
  return open;
}

function lengthOf(points: readonly number[]): number {
  let sum = 0;
  for (let i = 3; i < points.length; i += 3) {
    sum += Math.hypot(
      points[i] - points[i - 3],
      points[i + 1] - points[i - 2],
      points[i + 2] - points[i - 1],
    );
  }
  return sum;
}
