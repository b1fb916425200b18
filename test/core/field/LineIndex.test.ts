import { expect, test } from 'vitest';
import { LineIndex, newLineHit } from '../../../src/core/field/LineIndex.ts';
import type { CutSegments } from '../../../src/core/parting/types.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

function randomSegments(count: number, random: () => number): CutSegments {
  const ends = new Float64Array(6 * count);
  for (let s = 0; s < count; s++) {
    for (let k = 0; k < 3; k++) {
      ends[6 * s + k] = 200 * (random() - 0.5);
      ends[6 * s + 3 + k] = ends[6 * s + k] + 6 * (random() - 0.5);
    }
  }
  const none = new Int32Array(count);
  return { count, ends, tri: none, left: none, right: none, path: none };
}

/** Distance from a point to a segment by sampling it finely: slow and simple. */
function bruteDistance(ends: Float64Array, s: number, p: readonly number[]): number {
  let best = Infinity;
  for (let n = 0; n <= 400; n++) {
    let d2 = 0;
    for (let k = 0; k < 3; k++)
      d2 += (ends[6 * s + k] + (n / 400) * (ends[6 * s + 3 + k] - ends[6 * s + k]) - p[k]) ** 2;
    best = Math.min(best, d2);
  }
  return Math.sqrt(best);
}

test('finds the nearest of 300 random segments within reach, seed 31, as trying all of them does', () => {
  const random = seededRandom(31);
  const segments = randomSegments(300, random);
  const reachMm = 5;
  const index = new LineIndex(segments, reachMm);
  const hit = newLineHit();
  let found = 0;
  for (let n = 0; n < 400; n++) {
    // Half of the places near a segment, half anywhere.
    const s = Math.floor(random() * segments.count);
    const p = [0, 1, 2].map((k) =>
      n % 2 ? 240 * (random() - 0.5) : segments.ends[6 * s + k] + 12 * (random() - 0.5),
    );
    let best = Infinity;
    for (let t = 0; t < segments.count; t++) best = Math.min(best, bruteDistance(segments.ends, t, p));
    const isFound = index.find(p[0], p[1], p[2], hit);
    // The samples of the slow way lie at most 1/800 of a segment of 10.4 mm away from its nearest point.
    if (Math.abs(best - reachMm) > 0.02) expect(isFound).toBe(best < reachMm);
    if (!isFound) continue;
    found++;
    expect(Math.abs(hit.distanceMm - best)).toBeLessThan(0.02);
    expect(index.mayTouch(p[0], p[1], p[2], p[0], p[1], p[2])).toBe(true);
  }
  expect(found).toBeGreaterThan(50);
});

test('an index of no segments finds nothing', () => {
  const index = new LineIndex(
    randomSegments(0, () => 0),
    2,
  );
  expect(index.find(0, 0, 0, newLineHit())).toBe(false);
  expect(index.mayTouch(-9, -9, -9, 9, 9, 9)).toBe(false);
});

test('where lines meet, the earlier path wins, whatever the order of the segments', () => {
  // Three segments from the origin outward; the point lies behind it, as far from all of them.
  const rays = [
    [0, 0, 0, 1, 0, 0],
    [0, 0, 0, 0, 1, 0],
    [0, 0, 0, 0, 0, 1],
  ];
  const none = new Int32Array(3);
  for (const order of [
    [0, 1, 2],
    [2, 0, 1],
    [1, 2, 0],
    [2, 1, 0],
  ]) {
    const ends = Float64Array.from(order.flatMap((n) => rays[n]));
    const index = new LineIndex({ count: 3, ends, path: Int32Array.from(order) }, 2);
    const hit = newLineHit();
    expect(index.find(-1, -1, -1, hit)).toBe(true);
    expect(order[hit.segment]).toBe(0);
  }
  // On one path the later one.
  const index = new LineIndex({ count: 3, ends: Float64Array.from(rays.flat()), path: none }, 2);
  const hit = newLineHit();
  index.find(-1, -1, -1, hit);
  expect(hit.segment).toBe(2);
});
