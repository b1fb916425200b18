import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CornerIndex } from '../../src/io/CornerIndex.ts';
import { VertIndex } from '../../src/io/VertIndex.ts';

const SPECIAL = [
  0,
  -0,
  1,
  -1,
  5e-324,
  -5e-324,
  1.7976931348623157e308,
  0.1,
  0.1 + Number.EPSILON / 8,
  3,
  2 ** -30,
];

describe('VertIndex', () => {
  it('numbers points as a map of their coordinates does, whatever room it begins with', () => {
    const coordinate = fc.oneof(fc.constantFrom(...SPECIAL), fc.integer({ min: -3, max: 3 }));
    const point = fc.tuple(coordinate, coordinate, coordinate);
    fc.assert(
      fc.property(fc.array(point, { maxLength: 600 }), fc.integer({ min: 0, max: 700 }), (points, room) => {
        const index = new VertIndex(room);
        const known = new Map<string, number>();
        for (const p of points) {
          // String(-0) is "0": the map takes the two for one, as the index must.
          const key = p.map(String).join(' ');
          const expected = known.get(key) ?? known.size;
          known.set(key, expected);
          expect(index.findOrAdd(...p)).toBe(expected);
        }
        expect(index.vertCount).toBe(known.size);
        const written = [...index.takePositions()];
        expect(written).toEqual([...known.keys()].flatMap((key) => key.split(' ').map(Number)));
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('stays quick on a grid, whose coordinates differ in few bits', () => {
    const index = new VertIndex(10);
    const side = 60;
    const from = performance.now();
    for (let round = 0; round < 2; round++) {
      for (let i = 0; i < side ** 3; i++) {
        const vert = index.findOrAdd(i % side, Math.floor(i / side) % side, Math.floor(i / side ** 2) * 1024);
        if (vert !== i) throw new Error(`point ${i} became ${vert}`);
      }
    }
    expect(index.vertCount).toBe(side ** 3);
    // Half a million finds: about 50 ms. Were the hash to fail, each would walk thousands of places: minutes.
    expect(performance.now() - from).toBeLessThan(10_000);
  });
});

describe('CornerIndex', () => {
  it('numbers float32 points as VertIndex does, whatever room it begins with', () => {
    const coordinate = fc.oneof(
      fc.constantFrom(...SPECIAL.map(Math.fround).filter(Number.isFinite)),
      fc.integer({ min: -3, max: 3 }),
    );
    const point = fc.tuple(coordinate, coordinate, coordinate);
    const word = new Float32Array(1);
    const bits = new Int32Array(word.buffer);
    const bitsOf = (x: number): number => {
      word[0] = x;
      return bits[0];
    };
    fc.assert(
      fc.property(fc.array(point, { maxLength: 600 }), fc.integer({ min: 0, max: 700 }), (points, room) => {
        const index = new CornerIndex(room);
        const known = new VertIndex(room);
        for (const [x, y, z] of points) {
          expect(index.findOrAdd(bitsOf(x), bitsOf(y), bitsOf(z))).toBe(known.findOrAdd(x, y, z));
        }
        expect(index.vertCount).toBe(known.vertCount);
        expect(index.takePositions()).toEqual(known.takePositions());
      }),
      { seed: 4, numRuns: 100 },
    );
  });
});
