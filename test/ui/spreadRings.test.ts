import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spreadRings } from '../../src/ui/figure/spreadRings.ts';

describe('spreadRings', () => {
  test('rings with room stand on their points', () => {
    const points = [
      { x: 10, y: 10 },
      { x: 60, y: 10 },
    ];
    expect(spreadRings(points)).toEqual(points);
  });

  test('a heap is laid out so that no number covers another, and none strays far', () => {
    const place = fc.record({
      x: fc.double({ min: 100, max: 160, noNaN: true }),
      y: fc.double({ min: 100, max: 160, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 12 }), (points) => {
        const rings = spreadRings(points);
        for (let i = 0; i < rings.length; i++) {
          // Twelve rings fill a disc of about 55 px (own arithmetic: 12 rings of 12 px at the density of a loose heap).
          expect(Math.hypot(rings[i].x - points[i].x, rings[i].y - points[i].y)).toBeLessThan(90);
          for (let j = i + 1; j < rings.length; j++) {
            // The number itself is within 8 px of the middle.
            expect(Math.hypot(rings[i].x - rings[j].x, rings[i].y - rings[j].y)).toBeGreaterThan(16);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});
