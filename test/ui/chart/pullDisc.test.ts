import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import {
  discOf,
  placeOnDisc,
  pullAt,
  pullOf,
  roundPull,
  stepPull,
  tiltDeg,
} from '../../../src/ui/chart/pullDisc.ts';

const onBoard = { rimDeg: 90 };
const free = { rimDeg: 180 };

function expectPull(got: Vec3, want: Vec3): void {
  got.forEach((x, i) => {
    expect(x).toBeCloseTo(want[i], 9);
  });
}

describe('the disc of pulls', () => {
  it('has straight up in the middle, level on the rim, the front at the foot and +x at the right', () => {
    expect(placeOnDisc(onBoard, [0, 0, 1])).toEqual({ x: 0, y: 0 });
    const front = placeOnDisc(onBoard, [0, -1, 0]);
    expect(front.x).toBeCloseTo(0, 12);
    expect(front.y).toBeCloseTo(1, 12);
    const right = placeOnDisc(onBoard, [1, 0, 0]);
    expect(right.x).toBeCloseTo(1, 12);
    expect(right.y).toBeCloseTo(0, 12);
    const half = placeOnDisc(onBoard, pullOf(0, 45));
    expect(half.x).toBeCloseTo(0.5, 12);
    expect(placeOnDisc(free, [1, 0, 0]).x).toBeCloseTo(0.5, 12);
    expect(Math.hypot(placeOnDisc(free, [0, 0, -1]).x, placeOnDisc(free, [0, 0, -1]).y)).toBeCloseTo(1, 12);
  });

  it('gives a pull back from its place (seed 7)', () => {
    const angle = fc.double({ min: 0, max: 360, noNaN: true });
    fc.assert(
      fc.property(
        angle,
        fc.double({ min: -89, max: 89, noNaN: true }),
        fc.boolean(),
        (azimuth, rise, isFree) => {
          const disc = isFree ? free : onBoard;
          const pull = pullOf(azimuth, isFree ? rise : Math.abs(rise));
          const { x, y } = placeOnDisc(disc, pull);
          expectPull(pullAt(disc, x, y), pull);
        },
      ),
      { seed: 7 },
    );
  });

  it('takes a place outside for the nearest on the rim', () => {
    expectPull(pullAt(onBoard, 3, 0), [1, 0, 0]);
    expectPull(pullAt(onBoard, 0, 0), [0, 0, 1]);
  });

  it('reaches below the level only where a direction does', () => {
    expect(discOf(Float32Array.from([1, 0, 0, 0, 0, 1])).rimDeg).toBe(90);
    expect(discOf(Float32Array.from([1, 0, 0, 0, 0, -1])).rimDeg).toBe(180);
  });

  it('rounds to whole degrees and draws to level and straight up', () => {
    expectPull(roundPull(pullOf(30.4, 2)), pullOf(30, 0));
    expectPull(roundPull(pullOf(30.4, 20.3)), pullOf(30, 20));
    expectPull(roundPull(pullOf(30.4, 88)), [0, 0, 1]);
  });

  it('steps by keys and stays on the disc', () => {
    expectPull(stepPull(onBoard, [1, 0, 0], 5, 0), pullOf(5, 0));
    expectPull(stepPull(onBoard, [1, 0, 0], 0, -5), [1, 0, 0]);
    expect(tiltDeg(stepPull(free, [1, 0, 0], 0, -5))).toBe(-5);
    expectPull(stepPull(onBoard, pullOf(40, 88), 0, 5), [0, 0, 1]);
  });
});
