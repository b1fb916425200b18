import { describe, expect, it } from 'vitest';
import { largestDraft } from '../../../../src/core/parting/pulls/largestDraft.ts';
import { minNormPoint } from '../../../../src/core/parting/pulls/minNormPoint.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';

/**
 * The nearest point by trying every set of at most dim + 1 vectors: the nearest point of the plane through each (normal
 * equations, another route than Wolfe's), kept where its weights are none below zero.
 */
function nearestByTrying(vectors: Float64Array, dim: number): number {
  const n = vectors.length / dim;
  let best = Infinity;
  const tryFrom = (from: number, set: number[]): void => {
    if (set.length > 0) best = Math.min(best, nearestOfSet(vectors, dim, set));
    if (set.length === dim + 1) return;
    for (let i = from; i < n; i++) tryFrom(i + 1, [...set, i]);
  };
  tryFrom(0, []);
  return best;
}

/** Distance of the plane through p0..pk: minimises |p0 + sum y_i (p_i - p0)|; Infinity when a weight is below zero. */
function nearestOfSet(vectors: Float64Array, dim: number, set: readonly number[]): number {
  const at = (i: number, k: number): number => vectors[set[i] * dim + k];
  const m = set.length - 1;
  const axes = Array.from({ length: m }, (_, i) =>
    Array.from({ length: dim }, (_, k) => at(i + 1, k) - at(0, k)),
  );
  const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((s, v, k) => s + v * b[k], 0);
  const origin = Array.from({ length: dim }, (_, k) => at(0, k));
  const rows = axes.map((a) => [...axes.map((b) => dot(a, b)), -dot(a, origin)]);
  for (let c = 0; c < m; c++) {
    for (let r = c + 1; r < m; r++) {
      if (Math.abs(rows[r][c]) > Math.abs(rows[c][c])) [rows[r], rows[c]] = [rows[c], rows[r]];
    }
    if (Math.abs(rows[c][c]) < 1e-12) return Infinity;
    for (let r = 0; r < m; r++) {
      if (r === c) continue;
      const f = rows[r][c] / rows[c][c];
      rows[r] = rows[r].map((v, k) => v - f * rows[c][k]);
    }
  }
  const y = rows.map((row, i) => row[m] / row[i]);
  if (y.some((w) => w < -1e-9) || y.reduce((a, b) => a + b, 0) > 1 + 1e-9) return Infinity;
  const point = origin.map((o, k) => o + y.reduce((s, w, i) => s + w * axes[i][k], 0));
  return Math.sqrt(dot(point, point));
}

describe('minNormPoint', () => {
  it.each([
    [2, 8, 0.4],
    [3, 8, 0.6],
    [4, 9, 0.8],
    [6, 9, 1],
  ])('in %i dimensions equals trying every set, seeds 1 to 60', (dim, count, away) => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = seededRandom(seed);
      // Clouds about a point off the origin: some hold the origin, some do not.
      const vectors = Float64Array.from(
        { length: dim * count },
        (_, i) => 2 * random() - 1 + (i % dim === 0 ? away : 0),
      );
      const found = minNormPoint(vectors, dim);
      expect(Math.abs(found.norm - nearestByTrying(vectors, dim)), `seed ${seed}`).toBeLessThan(1e-7);
    }
  });

  it('is a supporting point on 5000 unit normals of a cap, and its norm the cosine of the half angle', () => {
    const random = seededRandom(3);
    const half = 1.1;
    const normals: number[] = [];
    for (let i = 0; i < 5000; i++) {
      const angle = i < 40 ? half : half * Math.sqrt(random());
      const turn = i < 40 ? (2 * Math.PI * i) / 40 : 2 * Math.PI * random();
      normals.push(Math.sin(angle) * Math.cos(turn), Math.sin(angle) * Math.sin(turn), Math.cos(angle));
    }
    const found = minNormPoint(Float64Array.from(normals), 3);
    expect(found.norm).toBeCloseTo(Math.cos(half), 12);
    expect(found.point[2]).toBeCloseTo(Math.cos(half), 12);
    expect(found.corners.length).toBeLessThanOrEqual(4);
  });

  it('is one vector alone, and refuses none', () => {
    expect(minNormPoint(Float64Array.of(3, 4), 2).norm).toBe(5);
    expect(() => minNormPoint(new Float64Array(0), 3)).toThrow(RangeError);
    expect(() => minNormPoint(new Float64Array(7), 3)).toThrow(RangeError);
  });
});

describe('largestDraft', () => {
  it('of a box corner is its diagonal: asin(1 / sqrt 3)', () => {
    const draft = largestDraft(Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), true)!;
    expect(draft.draftRad).toBeCloseTo(Math.asin(1 / Math.sqrt(3)), 12);
    for (const x of draft.pull) expect(x).toBeCloseTo(1 / Math.sqrt(3), 12);
  });

  it('of a cone is its axis, with the half angle as draft', () => {
    const half = 0.2;
    const normals = Array.from({ length: 90 }, (_, i) => {
      const u = (2 * Math.PI * i) / 90;
      return [Math.cos(half) * Math.cos(u), Math.cos(half) * Math.sin(u), Math.sin(half)];
    });
    const draft = largestDraft(Float64Array.from(normals.flat()), true)!;
    expect(draft.draftRad).toBeCloseTo(half, 10);
    expect(draft.pull[2]).toBeCloseTo(1, 12);
  });

  it('stays level on a board where the freest way would go down', () => {
    // Two faces that lean down: free best is (1, 0, -1) / sqrt 2; on a board the horizontal (1, 0, 0).
    const lean = Math.SQRT1_2;
    const normals = Float64Array.of(lean, 0.1, -lean, lean, -0.1, -lean);
    const onBoard = largestDraft(normals, true)!;
    expect(onBoard.pull[0]).toBeCloseTo(1, 12);
    expect(onBoard.pull[2]).toBe(0);
    expect(onBoard.draftRad).toBeCloseTo(Math.asin(lean), 12);
    expect(largestDraft(normals, false)!.pull[2]).toBeCloseTo(-lean, 12);
  });

  it('is none where faces look both ways', () => {
    expect(largestDraft(Float64Array.of(1, 0, 0, -1, 0, 0), false)).toBeNull();
    expect(largestDraft(Float64Array.of(0, 0, -1), true)).toBeNull();
  });
});
