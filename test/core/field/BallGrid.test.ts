import { describe, expect, it } from 'vitest';
import { BallGrid } from '../../../src/core/field/BallGrid.ts';
import type { AreaBall } from '../../../src/core/plan/ballsOf.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

/** Oracle: every ball is asked. */
const reachOf = (balls: readonly AreaBall[], x: number, y: number, z: number): number =>
  Math.max(
    ...balls.map(
      ({ centreMm, radiusMm }) => radiusMm - Math.hypot(x - centreMm[0], y - centreMm[1], z - centreMm[2]),
    ),
  );

describe('BallGrid', () => {
  it('reaches as far as the farthest of all balls, wherever it is within the margin (seed 11)', () => {
    const random = seededRandom(11);
    const balls = Array.from({ length: 300 }, () => ({
      centreMm: [100 * random() - 50, 40 * random() - 20, 200 * random()] as const,
      radiusMm: 1 + 20 * random() ** 3,
    }));
    const marginMm = 2;
    const grid = new BallGrid(balls, marginMm);
    for (let n = 0; n < 3000; n++) {
      const [x, y, z] = [140 * random() - 70, 80 * random() - 40, 260 * random() - 30];
      const truth = reachOf(balls, x, y, z);
      const reach = grid.reachInto(x, y, z);
      if (truth > -marginMm) {
        expect(reach).toBeCloseTo(truth, 12);
        expect(reachOf([balls[grid.deepest]], x, y, z)).toBeCloseTo(truth, 12);
      } else {
        expect(reach).toBe(-Infinity);
        expect(grid.deepest).toBe(-1);
      }
    }
  });

  it('names every ball that touches a box, small or wider than the whole (seed 12)', () => {
    const random = seededRandom(12);
    const balls = Array.from({ length: 60 }, () => ({
      centreMm: [60 * random(), 60 * random(), 60 * random()] as const,
      radiusMm: 2 + 3 * random(),
    }));
    const grid = new BallGrid(balls);
    for (let n = 0; n < 400; n++) {
      const size = n % 10 === 0 ? 500 : 12 * random();
      const low = [80 * random() - 10, 80 * random() - 10, 80 * random() - 10];
      const near = grid.near(low[0], low[1], low[2], low[0] + size, low[1] + size, low[2] + size);
      expect(new Set(near).size).toBe(near.length);
      balls.forEach(({ centreMm, radiusMm }, ball) => {
        const away = Math.hypot(...centreMm.map((c, k) => Math.max(low[k] - c, 0, c - low[k] - size)));
        if (away < radiusMm) expect(near).toContain(ball);
      });
    }
  });

  it('no balls: nothing is near anywhere', () => {
    const grid = new BallGrid([]);
    expect(grid.reachInto(0, 0, 0)).toBe(-Infinity);
    expect(grid.near(-1, -1, -1, 1, 1, 1)).toEqual([]);
  });
});
