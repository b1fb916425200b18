import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import {
  DAB_SPACING_SHARE,
  dabsOfStroke,
  eraseClear,
  leftAfterErasing,
  MOST_DABS,
  paintClearArea,
  startClearArea,
} from '../../src/session/paintActions.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';

const away = (a: Vec3, b: Vec3) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe('a stroke of the brush', () => {
  it('lays dabs along a quick stroke, no farther apart than half the radius', () => {
    const dabs = dabsOfStroke(
      [
        [0, 0, 0],
        [100, 0, 0],
      ],
      [],
      10,
    );
    expect(dabs[0]).toEqual([0, 0, 0]);
    expect(dabs.at(-1)).toEqual([100, 0, 0]);
    expect(dabs).toHaveLength(21);
    for (let n = 1; n < dabs.length; n++) expect(away(dabs[n], dabs[n - 1])).toBeCloseTo(5, 9);
  });

  it('covers what a thousand shaky points passed over with far fewer dabs (seed 3)', () => {
    const random = seededRandom(3);
    const points = Array.from({ length: 1000 }, (): Vec3 => [30 * random(), 30 * random(), 0]);
    const dabs = dabsOfStroke(points.slice(0, 200), [], 12);
    for (let n = 0; n < dabs.length; n++)
      for (let m = 0; m < n; m++)
        expect(away(dabs[n], dabs[m])).toBeGreaterThan(0.99 * DAB_SPACING_SHARE * 12);
    for (const p of points.slice(0, 200))
      expect(Math.min(...dabs.map((dab) => away(dab, p)))).toBeLessThan(DAB_SPACING_SHARE * 12);
    expect(dabs.length).toBeLessThan(60);
  });

  it('adds nothing where it has been already', () => {
    const first = dabsOfStroke(
      [
        [0, 0, 0],
        [50, 0, 0],
      ],
      [],
      10,
    );
    expect(
      dabsOfStroke(
        [
          [1, 0, 0],
          [49, 1, 0],
        ],
        first,
        10,
      ),
    ).toEqual([]);
  });
});

describe('painting the plan', () => {
  const plan = newPlan('a.stl');

  it('begins areas with names of their own, adds to one, erases from all, and drops the empty', () => {
    const one = startClearArea(
      [
        [0, 0, 0],
        [5, 0, 0],
      ],
      10,
    )(plan);
    const two = startClearArea([[100, 0, 0]], 4)(one);
    expect(two.scan.keepClear.map((area) => area.name)).toEqual(['Clear 1', 'Clear 2']);
    const more = paintClearArea(1, [[104, 0, 0]])(two);
    expect(more.scan.keepClear[1].dabsMm).toEqual([
      [100, 0, 0],
      [104, 0, 0],
    ]);
    const less = eraseClear([[0, 0, 0]], 3)(more);
    expect(less.scan.keepClear[0].dabsMm).toEqual([[5, 0, 0]]);
    expect(eraseClear([[102, 0, 0]], 3)(less).scan.keepClear.map((area) => area.name)).toEqual(['Clear 1']);
    expect(startClearArea([], 10)(plan).scan.keepClear).toEqual([]);
    expect(leftAfterErasing([[0, 0, 0]], [], 5)).toEqual([[0, 0, 0]]);
  });

  it('never holds more dabs than the plan allows', () => {
    const many = Array.from({ length: MOST_DABS + 50 }, (_, n): Vec3 => [n, 0, 0]);
    const full = paintClearArea(0, many)(startClearArea(many.slice(0, 10), 1)(plan));
    expect(full.scan.keepClear[0].dabsMm).toHaveLength(MOST_DABS);
  });
});
