import { describe, expect, test } from 'vitest';
import { quietLines } from '../../../src/view/surface/quietLines.ts';

const SIDE = 41;

/** A level sheet, 40 x 40 mm, a vertex each millimetre; `valueAt` by place. */
function sheet(valueAt: (x: number, y: number) => number) {
  const positions = new Float32Array(3 * SIDE * SIDE);
  const values = new Float32Array(SIDE * SIDE);
  const indices: number[] = [];
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      const v = y * SIDE + x;
      positions.set([x, y, 0], 3 * v);
      values[v] = valueAt(x, y);
      if (x + 1 < SIDE && y + 1 < SIDE) indices.push(v, v + 1, v + SIDE, v + 1, v + SIDE + 1, v + SIDE);
    }
  }
  return { positions, values, indices: Uint32Array.from(indices) };
}

function quiet(valueAt: (x: number, y: number) => number, borders: readonly number[], smallestMm: number) {
  const { positions, values, indices } = sheet(valueAt);
  const work = quietLines(values, positions, indices, borders, smallestMm);
  for (;;) {
    const step = work.next();
    if (step.done)
      return { values, lines: step.value, at: (x: number, y: number) => step.value[y * SIDE + x] };
  }
}

/** 1 within `radius` of a place, else 0. */
const disc = (cx: number, cy: number, radius: number) => (x: number, y: number) =>
  Math.hypot(x - cx, y - cy) <= radius ? 1 : 0;

describe('quietLines', () => {
  test('a speck that stands out, and a hollow, get no line; the map itself is left', () => {
    // 9 mm high ground, a speck of 12 and one of 6, each 4 mm wide: 5.7 mm across their boxes (own arithmetic).
    const up = disc(10, 10, 2);
    const down = disc(30, 10, 2);
    const { values, at } = quiet((x, y) => 9 + 3 * up(x, y) - 3 * down(x, y), [8, 10], 7);
    expect(at(10, 10)).toBeLessThan(10);
    expect(at(30, 10)).toBeGreaterThan(8);
    expect(at(20, 20)).toBe(9);
    expect(values[10 * SIDE + 10]).toBe(12);
  });

  test('what is larger keeps its line', () => {
    const up = disc(20, 20, 6);
    const { at } = quiet((x, y) => 9 + 3 * up(x, y), [8, 10], 7);
    expect(at(20, 20)).toBe(12);
    expect(at(2, 2)).toBe(9);
  });

  test('a speck through several borders is taken below them all; a slope is left as it is', () => {
    const up = disc(20, 20, 2);
    const { at } = quiet((x, y) => x / 10 + 8 * up(x, y), [1, 3, 5, 7], 7);
    expect(at(20, 20)).toBeLessThan(3);
    for (const x of [0, 5, 15, 35]) expect(at(x, 5)).toBeCloseTo(x / 10, 5);
  });

  test('where nothing is told nothing is told after it', () => {
    const { at } = quiet((x) => (x > 30 ? Number.NaN : 5), [4], 7);
    expect(at(35, 5)).toBeNaN();
    expect(at(5, 5)).toBe(5);
  });
});
