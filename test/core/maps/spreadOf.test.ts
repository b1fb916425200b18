import { describe, expect, it } from 'vitest';
import { spreadOf } from '../../../src/core/maps/spreadOf.ts';
import { valuesAtCorners } from '../../../src/core/maps/valuesAtCorners.ts';

/** A strip of `count` squares of 1 mm, two triangles each, side by side along x. */
function strip(count: number) {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i <= count; i++) positions.push(i, 0, 0, i, 1, 0);
  for (let i = 0; i < count; i++) indices.push(2 * i, 2 * i + 2, 2 * i + 1, 2 * i + 1, 2 * i + 2, 2 * i + 3);
  return { positions, indices };
}

describe('spreadOf', () => {
  it('leaves out 2 % of the area at either end, and what is not finite', () => {
    const surface = strip(1000);
    const corners = Float32Array.from(surface.indices, (v) => surface.positions[3 * v]);
    corners[0] = Infinity;
    corners[3] = Number.NaN;
    const spread = spreadOf([{ ...surface, corners }]);
    expect(spread?.least).toBe(0);
    expect(spread?.most).toBe(1000);
    // The value is x, spread evenly: 2 % and 98 % of it, to a bin and a square.
    expect(Math.abs((spread?.low ?? 0) - 20)).toBeLessThan(1.5);
    expect(Math.abs((spread?.high ?? 0) - 980)).toBeLessThan(1.5);
  });

  it('one value throughout has no span; none at all has no spread', () => {
    const surface = strip(2);
    expect(spreadOf([{ ...surface, corners: new Float32Array(12).fill(3) }])).toEqual({
      least: 3,
      most: 3,
      low: 3,
      high: 3,
    });
    expect(spreadOf([{ ...surface, corners: new Float32Array(12).fill(Infinity) }])).toBeNull();
  });
});

describe('valuesAtCorners', () => {
  it('is linear over the triangle that a part was cut from; an endless corner spreads to what hangs on it alone', () => {
    const whole = { positions: [0, 0, 0, 4, 0, 0, 0, 4, 0], indices: [0, 1, 2] };
    const part = { positions: [1, 1, 0, 4, 0, 0, 0, 0, 0], indices: [0, 1, 2], sources: [0] };
    // f = 2 + x + 3 y at the corners, own arithmetic.
    expect([...valuesAtCorners(whole, [2, 6, 14], part)]).toEqual([6, 6, 2]);
    expect([...valuesAtCorners(whole, [2, Infinity, 14], part)]).toEqual([Infinity, Infinity, 2]);
  });
});
