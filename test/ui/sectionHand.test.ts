import { describe, expect, it } from 'vitest';
import type { SectionPicture } from '../../src/jobs/protocol.ts';
import { coatSpots, firstRuler } from '../../src/ui/figure/section/coatSpots.ts';
import { coatAt, meetCut, placeOnBoard } from '../../src/ui/figure/section/cutPlace.ts';

/** A ring of circle points, u v pairs. */
const circle = (radius: number): Float32Array =>
  Float32Array.from(
    { length: 720 },
    (_, i) => radius * (i % 2 === 0 ? Math.cos : Math.sin)(((i >> 1) * Math.PI) / 180),
  );

/** A round rubber of 20 mm with coats of 2 and 3 mm, cut across at y = 5. */
const cut: SectionPicture = {
  plane: { normal: [0, -1, 0], offsetMm: -5 },
  origin: [0, 5, 30],
  uAxis: [1, 0, 0],
  vAxis: [0, 0, 1],
  areas: [
    { coat: -1, piece: -1, rings: [circle(20)] },
    { coat: 0, piece: 0, rings: [circle(22), circle(20)] },
    { coat: 1, piece: 0, rings: [circle(25), circle(22)] },
  ],
};

describe('the face of a cut', () => {
  it('a ray meets it where it stands, and what lies there is told', () => {
    const place = meetCut(cut, { origin: [21, -100, 30], direction: [0, 1, 0] });
    expect(place).toEqual([21, 0]);
    expect(placeOnBoard(cut, [21, 0])).toEqual([21, 5, 30]);
    expect(coatAt(cut, [21, 0])?.coat).toBe(0);
    expect(coatAt(cut, [0, 24])?.coat).toBe(1);
    expect(coatAt(cut, [3, 4])?.coat).toBe(-1);
    expect(coatAt(cut, [30, 0])).toBeNull();
    expect(meetCut(cut, { origin: [0, 0, 0], direction: [1, 0, 0] })).toBeNull();
    expect(meetCut(cut, { origin: [0, 0, 0], direction: [0, -1, 0] })).toBeNull();
  });

  it('the ruler begins across all coats: 25 - 20 mm to a step of the search, 50 / 400 mm', () => {
    const ends = firstRuler(cut);
    expect(ends).not.toBeNull();
    const [a, b] = ends ?? [
      [0, 0],
      [0, 0],
    ];
    expect(Math.abs(b[0] - a[0] - 5)).toBeLessThan(0.26);
    expect(a[1]).toBeCloseTo(b[1], 9);
    expect(firstRuler({ ...cut, areas: [] })).toBeNull();
  });

  it('each coat has a spot of its own inside it, from high to low', () => {
    const spots = coatSpots(cut, 2);
    expect(spots.map(({ coat, at }) => coatAt(cut, at)?.coat === coat)).toEqual([true, true]);
    expect(spots[0].at[1]).toBeGreaterThan(spots[1].at[1]);
  });
});
