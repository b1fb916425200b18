import earcut, { deviation } from 'earcut';
import { describe, expect, test } from 'vitest';
import { type RingShape, ringsToShapes, signedRingArea } from '../../../src/view/section/ringsToShapes.ts';

const square = (u: number, v: number, half: number, isReversed = false): Float32Array => {
  const ring = [u - half, v - half, u + half, v - half, u + half, v + half, u - half, v + half];
  return new Float32Array(isReversed ? [6, 7, 4, 5, 2, 3, 0, 1].map((k) => ring[k]) : ring);
};

const areaOf = ({ outline, holes }: RingShape): number =>
  Math.abs(signedRingArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(signedRingArea(hole)), 0);

const totalArea = (shapes: readonly RingShape[]): number => shapes.reduce((sum, s) => sum + areaOf(s), 0);

describe('signedRingArea', () => {
  test('square of side 4: 16 counter-clockwise, -16 clockwise', () => {
    expect(signedRingArea(square(7, -3, 2))).toBeCloseTo(16, 6);
    expect(signedRingArea(square(7, -3, 2, true))).toBeCloseTo(-16, 6);
  });
});

describe('ringsToShapes', () => {
  test('a coat around the rubber is one outline with one hole, whichever way the rings run and in either order', () => {
    for (const isReversed of [false, true]) {
      for (const rings of [
        [square(0, 0, 5), square(0, 0, 4, isReversed)],
        [square(0, 0, 4, isReversed), square(0, 0, 5)],
      ]) {
        const shapes = ringsToShapes(rings);
        expect(shapes).toHaveLength(1);
        expect(shapes[0].holes).toHaveLength(1);
        expect(areaOf(shapes[0])).toBeCloseTo(100 - 64, 5);
      }
    }
  });

  test('an island in a hole is an outline of its own, and its own hole belongs to it', () => {
    const shapes = ringsToShapes([square(0, 0, 2), square(0, 0, 8), square(0, 0, 1), square(0, 0, 5)]);
    expect(shapes.map((s) => s.holes.length)).toEqual([1, 1]);
    expect(totalArea(shapes)).toBeCloseTo(256 - 100 + 16 - 4, 5);
  });

  test('outlines side by side keep their own holes', () => {
    const shapes = ringsToShapes([square(0, 0, 3), square(10, 0, 3), square(10, 0, 1)]);
    expect(shapes.map((s) => s.holes.length)).toEqual([0, 1]);
    expect(totalArea(shapes)).toBeCloseTo(36 + 36 - 4, 5);
  });

  test('a repeated last point is dropped; rings without an area to speak of are left out', () => {
    const closed = new Float32Array([0, 0, 4, 0, 4, 4, 0, 4, 0, 0]);
    expect(ringsToShapes([closed])[0].outline).toHaveLength(8);
    expect(ringsToShapes([new Float32Array([0, 0, 1, 1]), new Float32Array(0)])).toEqual([]);
  });

  // Checked by a second route: earcut 3 (from npm) triangulates each shape, and its own `deviation` compares the areas.
  test('can be triangulated without loss', () => {
    const ring = (radius: number, count: number): Float32Array =>
      Float32Array.from({ length: 2 * count }, (_, i) => {
        const angle = (2 * Math.PI * (i >> 1)) / count;
        return radius * (1 + 0.1 * Math.sin(5 * angle)) * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
      });
    for (const { outline, holes } of ringsToShapes([ring(40, 200), ring(36, 170), ring(10, 60)])) {
      const flat = [...outline, ...holes.flatMap((hole) => [...hole])];
      const starts: number[] = [];
      let at = outline.length / 2;
      for (const hole of holes) {
        starts.push(at);
        at += hole.length / 2;
      }
      expect(deviation(flat, starts, 2, earcut(flat, starts))).toBeLessThan(1e-6);
    }
  });
});
