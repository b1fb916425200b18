import { describe, expect, it } from 'vitest';
import type { SideLabel } from '../../../src/core/picture/SidePicture.ts';
import { placeCircles } from '../../../src/report/sheet/placeCircles.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';

const probe = (number: number, xPx: number, yPx: number): SideLabel => ({
  kind: 'probe',
  number,
  xPx,
  yPx,
  roomPx: 0,
});

describe('placeCircles', () => {
  it('leaves a lone circle on its spot', () => {
    expect(placeCircles([probe(3, 50, 60)], 10, 200, 200, [])).toEqual([
      { number: 3, x: 50, y: 60, spotX: 50, spotY: 60 },
    ]);
  });

  it('lays no circle on another or off the picture, for a dozen spots anywhere (seed 11)', () => {
    const random = seededRandom(11);
    for (let turn = 0; turn < 50; turn++) {
      const labels = Array.from({ length: 12 }, (_, n) => probe(n, 700 * random(), 800 * random()));
      const name = { x: 350, y: 400, radius: 60 };
      const circles = placeCircles(labels, 19, 700, 800, [name]);
      expect(circles.map((circle) => circle.number)).toEqual(labels.map((label) => label.number));
      circles.forEach((a, n) => {
        expect(Math.min(a.x, a.y, 700 - a.x, 800 - a.y)).toBeGreaterThanOrEqual(19);
        expect(Math.hypot(a.x - name.x, a.y - name.y)).toBeGreaterThanOrEqual(79);
        for (const b of circles.slice(n + 1)) {
          expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThanOrEqual(38);
        }
      });
    }
  });

  it('five spots on one point are told apart', () => {
    const circles = placeCircles(
      [1, 2, 3, 4, 5].map((n) => probe(n, 100, 100)),
      10,
      300,
      300,
      [],
    );
    expect(new Set(circles.map(({ x, y }) => `${x} ${y}`)).size).toBe(5);
  });
});
