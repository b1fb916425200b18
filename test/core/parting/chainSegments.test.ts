import { expect, test } from 'vitest';
import { chainSegments } from '../../../src/core/parting/chainSegments.ts';
import type { CutSegments } from '../../../src/core/parting/types.ts';

/** Segments between numbered points on a circle of radius 10, in the given order. */
function segmentsOf(pairs: readonly (readonly [number, number])[], left: readonly number[]): CutSegments {
  const at = (n: number): number[] => [10 * Math.cos(n / 3), 10 * Math.sin(n / 3), 0];
  return {
    count: pairs.length,
    ends: Float64Array.from(pairs.flatMap(([a, b]) => [...at(a), ...at(b)])),
    tri: Int32Array.from(pairs, (_, n) => n),
    left: Int32Array.from(left),
    right: Int32Array.from(left, () => 1),
    path: new Int32Array(pairs.length),
  };
}

test('segments in any order become one run in the sense from -> to', () => {
  const chains = chainSegments(
    segmentsOf(
      [
        [2, 3],
        [0, 1],
        [3, 4],
        [1, 2],
      ],
      [0, 0, 0, 0],
    ),
  );
  expect(chains).toHaveLength(1);
  expect([...chains[0].segments]).toEqual([1, 3, 0, 2]);
  expect(chains[0].isClosed).toBe(false);
  // Four chords of a third of a radian on radius 10.
  expect(chains[0].lengthMm).toBeCloseTo(4 * 20 * Math.sin(1 / 6), 10);
});

test('a change of region ends the run', () => {
  const chains = chainSegments(
    segmentsOf(
      [
        [0, 1],
        [1, 2],
        [2, 3],
      ],
      [0, 0, 2],
    ),
  );
  expect(chains.map((chain) => [chain.left, chain.segments.length])).toEqual([
    [0, 2],
    [2, 1],
  ]);
});

test('a ring is closed and repeats its first point', () => {
  const pairs = [0, 1, 2, 3].map((n) => [n, (n + 1) % 4] as const);
  const [ring, ...more] = chainSegments(segmentsOf(pairs, [0, 0, 0, 0]));
  expect(more).toHaveLength(0);
  expect(ring.isClosed).toBe(true);
  expect(ring.points.slice(0, 3)).toEqual(ring.points.slice(-3));
});
