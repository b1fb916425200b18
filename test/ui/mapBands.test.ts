import { describe, expect, it } from 'vitest';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { MapPicture } from '../../src/jobs/protocol.ts';
import { pictureAt, readMapRanges, readStagePictures } from '../../src/session/mapPrefs.ts';
import { STAGES } from '../../src/session/ViewPrefs.ts';
import { MapReader } from '../../src/ui/figure/maps/MapReader.ts';
import { mapBands } from '../../src/ui/figure/maps/mapBands.ts';
import { mapColours } from '../../src/ui/figure/maps/mapColours.ts';
import { mapLabels } from '../../src/ui/figure/maps/mapLabels.ts';
import { mapModel } from '../../src/ui/figure/maps/mapModel.ts';
import { sayBorder, sayMapValue } from '../../src/ui/figure/maps/mapWords.ts';
import { ended } from '../fixtures/ended.ts';
import { rubberPicture } from '../fixtures/rubberPicture.ts';

const OPEN = { least: null, most: null };
const IN = 25.4;

describe('mapBands', () => {
  const thick = { least: 2, most: 60, low: 7.2, high: 10.4 };

  it('of thickness runs between the outer 2 %, ruled at the finest round steps that leave seven lines at most', () => {
    expect(mapBands('thickness', thick, OPEN, 'metric')).toEqual({
      least: 7.2,
      most: 10.4,
      borders: [7.5, 8, 8.5, 9, 9.5, 10],
    });
    // 7.2 to 10.4 mm is 0.283 to 0.409 in: sixteenths at 5/16 and 3/8, thirty-seconds between.
    expect(mapBands('thickness', thick, OPEN, 'us')?.borders.map((mm) => Math.round((mm / IN) * 32))).toEqual(
      [10, 11, 12, 13],
    );
  });

  it('of thickness does not stretch to hollows half again as thick as what is laid', () => {
    const deep = { least: 2, most: 80, low: 5, high: 55 };
    expect(mapBands('thickness', deep, OPEN, 'metric', 10)?.most).toBe(15);
    expect(mapBands('thickness', thick, OPEN, 'metric', 10)?.most).toBe(10.4);
  });

  it('a typed end holds, the other follows the values; ends the wrong way round say nothing', () => {
    expect(mapBands('thickness', thick, { least: 0, most: null }, 'metric')).toEqual({
      least: 0,
      most: 10.4,
      borders: [2, 4, 6, 8, 10].filter((mm) => mm > 0),
    });
    expect(mapBands('thickness', thick, { least: 12, most: 5 }, 'metric')).toEqual(
      mapBands('thickness', thick, OPEN, 'metric'),
    );
    expect(mapBands('thickness', null, { least: 1, most: 2 }, 'metric')).toBeNull();
  });

  it('of draft is finest about nought; of distance as far to either side, without a line at nought', () => {
    const draft = { least: -22, most: 88, low: -10, high: 80 };
    expect(mapBands('draft', draft, OPEN, 'metric')?.borders).toEqual([-10, -3, 0, 3, 10, 30]);
    expect(mapBands('draft', draft, { least: -4, most: 4 }, 'metric')?.borders).toEqual([
      -3, -2, -1, 0, 1, 2, 3,
    ]);
    const distance = mapBands('distance', { least: -0.5, most: 3.2, low: 0, high: 0 }, OPEN, 'metric');
    expect(distance).toEqual({ least: -3.2, most: 3.2, borders: [-3, -2, -1, 1, 2, 3] });
    expect(mapBands('distance', { least: 0, most: 1e-6, low: 0, high: 0 }, OPEN, 'metric')?.borders).toEqual(
      [],
    );
  });
});

describe('mapColours', () => {
  const luminance = (hex: string) =>
    [1, 3, 5].reduce(
      (sum, at, k) => sum + [0.2126, 0.7152, 0.0722][k] * Number.parseInt(hex.slice(at, at + 2), 16),
      0,
    );

  it('one colour a band; thin, steep and deep are dark, in even order of lightness', () => {
    const cases = [
      ['thickness', { least: 7.2, most: 10.4, borders: [8, 9, 10] }, 1],
      ['draft', { least: -60, most: 90, borders: [-30, -10, -3, 0, 3, 10, 30] }, 1],
      ['undercut', { least: 0, most: 26, borders: [1, 2, 5, 10, 20] }, -1],
    ] as const;
    for (const [of, bands, rising] of cases) {
      const colours = mapColours(of, bands, false);
      expect(colours).toHaveLength(bands.borders.length + 1);
      for (const colour of colours) expect(colour).toMatch(/^#[0-9a-f]{6}$/);
      const light = colours.map(luminance);
      for (let i = 1; i < light.length; i++) expect(rising * (light[i] - light[i - 1])).toBeGreaterThan(3);
    }
  });

  it('of distance is palest in the middle, violet inside the scan, brown beyond', () => {
    const colours = mapColours('distance', { least: -3, most: 3, borders: [-2, -1, 1, 2] }, false);
    const light = colours.map(luminance);
    expect(Math.max(...light)).toBe(light[2]);
    const [r0, , b0] = [1, 3, 5].map((at) => Number.parseInt(colours[0].slice(at, at + 2), 16));
    expect(b0).toBeGreaterThan(r0);
    const [r4, , b4] = [1, 3, 5].map((at) => Number.parseInt(colours[4].slice(at, at + 2), 16));
    expect(r4).toBeGreaterThan(b4);
  });
});

/** A square of 10 mm in the board's plane, in two triangles, its value the x of each corner. */
const square = {
  rubber: rubberPicture({
    positions: Float32Array.from([0, 0, 0, 10, 0, 0, 10, 10, 0, 0, 10, 0]),
    indices: Uint32Array.from([0, 1, 2, 0, 2, 3]),
  }),
};
const picture: MapPicture = {
  of: 'thickness',
  coat: null,
  revision: 1,
  spread: { least: 0, most: 10, low: 0, high: 10 },
  pieces: [{ corners: Float32Array.from([0, 10, 10, 0, 10, 0]), tris: Uint32Array.from([4, 7]) }],
};

describe('MapReader', () => {
  it('reads linearly over the triangle that a spot lies in, and nothing off the pieces', () => {
    const reader = new MapReader(picture, [square]);
    expect(reader.read([6, 2, 0], 4, null)?.value).toBeCloseTo(6, 5);
    expect(reader.read([2, 6, 0], 7, null)).toEqual({ value: expect.closeTo(2, 5), piece: 0 });
    expect(reader.read([6, 2, 0], 5, null)).toBeNull();
    expect(reader.read([6, 2, 0], 4000, null)).toBeNull();
    expect(reader.read([6, 2, 0], 4, 1)).toBeNull();
  });
});

describe('mapModel', () => {
  it('is judged by the least thickness, for all coats alone; numbers stand on their lines', () => {
    const plan = { ...newPlan('a.stl'), leastThicknessMm: 6 };
    const model = mapModel(picture, {}, plan, 'metric');
    expect(model?.look.judged).toBe(6);
    expect(model?.look.hatch).toEqual({ at: 6, side: 'below' });
    expect(mapModel({ ...picture, coat: 0 }, {}, plan, 'metric')?.look).toMatchObject({
      judged: null,
      hatch: null,
    });
    const labels = model ? ended(mapLabels(picture, [square], model.bands)) : [];
    expect(labels.length).toBeGreaterThan(3);
    for (const { level, at } of labels) expect(at[0]).toBeCloseTo(level, 5);
  });
});

describe('words of maps', () => {
  it('say borders bare and readings with their unit, in either system', () => {
    expect(sayBorder('thickness', 7.5, 'metric')).toBe('7.5');
    expect(sayBorder('distance', 0.2, 'metric')).toBe('+0.2');
    expect(sayBorder('draft', -10, 'us')).toBe('\u221210');
    expect(sayBorder('thickness', (3 / 16) * IN, 'us')).toBe('3/16');
    expect(sayBorder('undercut', 1.25 * IN, 'us')).toBe('1 1/4');
    expect(sayMapValue('thickness', 7.41, 'metric')).toBe('7.4 mm');
    expect(sayMapValue('thickness', Infinity, 'metric')).toBe('the hollow fills');
    expect(sayMapValue('undercut', 0, 'us')).toBe('free');
    expect(sayMapValue('draft', -4.26, 'metric')).toBe('draft \u22124.3\u00b0, faces away');
    expect(sayMapValue('distance', 2, 'metric')).toBe('2.0 mm beyond the scan');
    expect(sayMapValue('distance', -0.001, 'metric')).toBe('as the scan');
  });
});

describe('what was chosen', () => {
  it('holds for its stage; what is odd falls back', () => {
    expect(pictureAt('coats', {})).toBe('thickness');
    expect(pictureAt('parting', { coats: 'draft' })).toBe('pieces');
    expect(pictureAt('scan', { scan: 'draft' })).toBe('pieces');
    expect(readStagePictures({ coats: 'pieces', parting: 'lava', sheets: 'draft' }, STAGES)).toEqual({
      coats: 'pieces',
    });
    expect(readMapRanges({ draft: { least: -5, most: 'x' }, pieces: { least: 1 }, lava: {} })).toEqual({
      draft: { least: -5, most: null },
    });
  });
});
