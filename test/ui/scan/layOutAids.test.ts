import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { type AidsScene, layOutAids } from '../../../src/ui/figure/layOutAids.ts';
import { chooseScaleFigure } from '../../../src/ui/figure/scaleFigures.ts';

/** Seen level from the front, `pxPerMm` pixels a millimetre: x to the right, z up. */
const sceneOf = (heightMm: number, pxPerMm: number, change: Partial<AidsScene> = {}): AidsScene => ({
  widthPx: 1000,
  heightPx: 700,
  project: ([x, , z]: Vec3) => ({ x: 400 + pxPerMm * x, y: 600 - pxPerMm * z }),
  mmPerPixel: 1 / pxPerMm,
  right: [1, 0, 0],
  box: { min: [-50, -50, 0], max: [50, 50, heightMm] },
  sayLength: (mm) => `${Math.round(mm)} mm`,
  handle: null,
  measure: null,
  figure: chooseScaleFigure(heightMm),
  ...change,
});

describe('layOutAids', () => {
  test('the hand stands on the board beside the mould, as tall for it as 190 mm are', () => {
    const { scale } = layOutAids(sceneOf(300, 2));
    expect(scale?.figure.kind).toBe('hand');
    expect(scale?.heightPx).toBeCloseTo(380, 9);
    expect(scale?.foot.y).toBe(600);
    // The mould's right side is at 500 px.
    expect((scale?.foot.x ?? 0) - (scale?.widthPx ?? 0) / 2).toBeGreaterThan(500);
    expect(scale?.text).toBe('a hand, 190 mm');
  });

  test('words wider than a small figure stand clear of the mould, or as far as the picture goes', () => {
    const { scale } = layOutAids(sceneOf(105, 2));
    expect(scale?.figure.kind).toBe('thumb');
    // 150 px of words, centred; the mould's right side is at 500 px.
    expect((scale?.words.x ?? 0) - 150 / 2).toBeGreaterThan(500);
    const tight = layOutAids(sceneOf(105, 2, { widthPx: 680 })).scale;
    expect((tight?.words.x ?? 0) + 150 / 2).toBeLessThanOrEqual(680 - 66);
  });

  test('a unit that is out jumps to the eye: the person is a speck, the thumb is only spoken of', () => {
    const large = layOutAids(sceneOf(300_000, 0.002)).scale;
    expect(large?.figure.kind).toBe('person');
    expect(large?.heightPx).toBeCloseTo(3.4, 9);
    const small = layOutAids(sceneOf(0.3, 1000)).scale;
    expect(small?.isTooTall).toBe(true);
    expect(small?.text).toBe('a thumb, 60 mm: 200 times as tall');
  });

  test('it stays in the picture, left of the buttons', () => {
    const { scale } = layOutAids(sceneOf(300, 2, { widthPx: 520 }));
    expect((scale?.foot.x ?? 0) + (scale?.widthPx ?? 0) / 2).toBeLessThanOrEqual(520 - 66);
    // A telephone has no room for its length: the panel tells it.
    expect(scale?.text).toBe('a hand');
  });

  test('from straight above a standing figure says nothing and is left out', () => {
    const project = ([x, y]: Vec3) => ({ x: 400 + 2 * x, y: 300 - 2 * y });
    expect(layOutAids(sceneOf(300, 2, { project })).scale).toBeNull();
  });

  test('a stretch is measured in space, not on the screen', () => {
    const measure = { from: [0, 0, 0] as Vec3, to: [30, 40, 0] as Vec3, isLive: true };
    const { measure: drawn } = layOutAids(sceneOf(300, 2, { measure }));
    expect(drawn?.text).toBe('50 mm');
    expect(drawn?.to).toEqual({ x: 460, y: 600 });
  });

  test.each([
    ['a flat one', [40, 0, 0], 'above'],
    ['a slanting one', [80, 0, 39], 'above'],
    ['a steep one', [20, 0, 60], 'beside'],
    ['an upright one', [0, 0, 80], 'beside'],
  ] as const)('the length of %s stands clear of the stretch', (_, to, where) => {
    const measure = { from: [0, 0, 0] as Vec3, to: [...to] as Vec3, isLive: false };
    const drawn = layOutAids(sceneOf(300, 2, { measure })).measure;
    if (!drawn) throw new Error('Nothing is drawn.');
    const { from, to: end, words } = drawn;
    const middle = { x: (from.x + end.x) / 2, y: (from.y + end.y) / 2 };
    if (where === 'beside') {
      expect(words.anchor).toBe('start');
      expect(words.x).toBeGreaterThan(middle.x + 8);
    } else {
      expect(words.anchor).toBe('middle');
      expect(words.x).toBe(middle.x);
      // Clear of the higher end, so of the whole stretch.
      expect(words.y).toBeLessThan(Math.min(from.y, end.y));
    }
  });

  test('near the buttons the length stands to the left', () => {
    const measure = { from: [0, 0, 0] as Vec3, to: [0, 0, 80] as Vec3, isLive: false };
    const words = layOutAids(sceneOf(300, 2, { measure, widthPx: 500 })).measure?.words;
    expect(words?.anchor).toBe('end');
    expect(words?.x).toBeLessThan(400 - 8);
  });

  test("the hand's words stand over it, where the board's edge does not cross them; without room there, under it", () => {
    const over = layOutAids(sceneOf(300, 2)).scale;
    expect(over?.words.y).toBeLessThan(600 - 380);
    const under = layOutAids(
      sceneOf(300, 2, { heightPx: 640, project: ([x, , z]) => ({ x: 400 + 2 * x, y: 400 - 2 * z }) }),
    ).scale;
    expect(under?.words.y).toBeGreaterThan(400);
  });

  test('the handle shows which way it slides; along the line of sight it has no way', () => {
    const at: Vec3 = [10, 0, 20];
    const up = layOutAids(sceneOf(300, 2, { handle: { at, axis: [0, 0, 1], text: 'Board' } })).handle;
    expect(up?.way?.x).toBeCloseTo(0, 12);
    expect(up?.way?.y).toBeCloseTo(-1, 12);
    const along = layOutAids(sceneOf(300, 2, { handle: { at, axis: [0, 1, 0], text: '' } })).handle;
    expect(along?.way).toBeNull();
  });
});
