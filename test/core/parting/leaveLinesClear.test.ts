import { describe, expect, it } from 'vitest';
import type { LineChain } from '../../../src/core/parting/chainSegments.ts';
import { leaveLinesClear } from '../../../src/core/parting/leaveLinesClear.ts';
import type { AreaBall } from '../../../src/core/plan/ballsOf.ts';

/** A line of straight stretches through the points. */
function chainOf(points: readonly (readonly [number, number, number])[]): LineChain {
  let lengthMm = 0;
  for (let i = 1; i < points.length; i++) {
    lengthMm += Math.hypot(...[0, 1, 2].map((k) => points[i][k] - points[i - 1][k]));
  }
  const [first, last] = [points[0], points[points.length - 1]];
  return {
    path: 3,
    left: 0,
    right: 1,
    points: Float64Array.from(points.flat()),
    segments: Int32Array.from({ length: points.length - 1 }, (_, n) => 10 + n),
    isClosed: first.every((x, k) => x === last[k]),
    lengthMm,
  };
}

const ball = (x: number, y: number, z: number, radiusMm: number): AreaBall => ({
  centreMm: [x, y, z],
  radiusMm,
});

function circle(radius: number, sides: number): LineChain {
  const points = Array.from({ length: sides }, (_, n): [number, number, number] => {
    const angle = (2 * Math.PI * n) / sides;
    return [radius * Math.cos(angle), radius * Math.sin(angle), 0];
  });
  return chainOf([...points, points[0]]);
}

const STRAIGHT = chainOf([
  [0, 0, 0],
  [40, 0, 0],
  [100, 0, 0],
]);
const ends = (chains: readonly LineChain[]): number[][] =>
  chains.map(({ points }) => [points[0], points[points.length - 3]]);

describe('leaveLinesClear', () => {
  it('gives lines that no ball touches back as they are', () => {
    const chains = [STRAIGHT];
    expect(leaveLinesClear(chains, [])).toBe(chains);
    expect(leaveLinesClear(chains, [ball(50, 20, 0, 19)])[0]).toBe(STRAIGHT);
  });

  it('cuts a straight line at the ball borders: a chord of 2 sqrt(r^2 - d^2)', () => {
    // 5 off the line, radius 13: 12 to each side of 50.
    const runs = leaveLinesClear([STRAIGHT], [ball(50, 3, 4, 13)]);
    expect(runs.map(({ lengthMm }) => lengthMm)).toEqual([38, 38]);
    expect(ends(runs)).toEqual([
      [0, 38],
      [62, 100],
    ]);
    expect(runs.map(({ segments }) => [...segments])).toEqual([[10], [11]]);
    expect(
      runs.every(({ isClosed, left, right, path }) => !isClosed && left === 0 && right === 1 && path === 3),
    ).toBe(true);
  });

  it('takes balls that overlap as one area, and ends in balls as no run', () => {
    const runs = leaveLinesClear(
      [STRAIGHT],
      [ball(0, 0, 0, 10), ball(50, 0, 0, 10), ball(64, 0, 0, 8), ball(58, 0, 0, 1)],
    );
    expect(ends(runs)).toEqual([
      [10, 40],
      [72, 100],
    ]);
    expect(leaveLinesClear([STRAIGHT], [ball(50, 0, 0, 51)])).toEqual([]);
  });

  it('leaves one run of a closed line, over its first point', () => {
    // A circle of R = 50 in 720 sides, a ball of 20 on it: an arc of 4 R asin(r / 2 R) goes, to the sides' 1e-5.
    const line = circle(50, 720);
    const angle = 2;
    const [run, ...more] = leaveLinesClear([line], [ball(50 * Math.cos(angle), 50 * Math.sin(angle), 0, 20)]);
    expect(more).toEqual([]);
    const arcMm = 4 * 50 * Math.asin(20 / 100);
    expect(run.lengthMm / (2 * Math.PI * 50 - arcMm)).toBeCloseTo(1, 4);
    expect(run.isClosed).toBe(false);
    expect(run.segments.length).toBe(run.points.length / 3 - 1);
    // Two balls: two runs, one over the first point.
    const two = leaveLinesClear([line], [ball(0, 50, 0, 20), ball(0, -50, 0, 20)]);
    expect(two.map(({ lengthMm }) => Math.round(lengthMm))).toEqual([117, 117]);
  });
});
