import { describe, expect, it } from 'vitest';
import { Slides } from '../../../src/view/surface/Slides.ts';

describe('Slides', () => {
  it('all pieces glide to where they were told, without passing it', () => {
    const slides = new Slides();
    slides.hold(2);
    slides.setAll(100, false);
    let before = 0;
    for (let frame = 0; frame < 200 && !slides.isStill; frame++) {
      slides.advance(1 / 60);
      expect(slides.nowMm(0)).toBeGreaterThanOrEqual(before);
      expect(slides.nowMm(0)).toBeLessThanOrEqual(100);
      before = slides.nowMm(0);
    }
    expect([slides.nowMm(0), slides.nowMm(1), slides.isStill]).toEqual([100, 100, true]);
  });

  it('one piece slides by itself; sliding all takes it back in', () => {
    const slides = new Slides();
    slides.hold(3);
    slides.setAll(10, true);
    slides.setOne(1, 40, true);
    expect([0, 1, 2].map((piece) => slides.nowMm(piece))).toEqual([10, 40, 10]);
    slides.setAll(20, true);
    expect([0, 1, 2].map((piece) => slides.goalMm(piece))).toEqual([20, 20, 20]);
  });

  it('a piece that comes later stands where all do', () => {
    const slides = new Slides();
    slides.setAll(15, true);
    slides.hold(1);
    expect([slides.nowMm(0), slides.goalMm(0), slides.isStill]).toEqual([15, 15, true]);
  });
});
