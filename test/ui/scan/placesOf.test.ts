import { describe, expect, it } from 'vitest';
import type { MarkPicture } from '../../../src/jobs/protocol.ts';
import { DEFAULT_VIEW_PREFS, readViewPrefs } from '../../../src/session/ViewPrefs.ts';
import { facesLeftOut, placesOf } from '../../../src/ui/panels/scan/placesOf.ts';

const SQUARE: MarkPicture = {
  code: 'holes-left',
  // Closed: the last point is the first again and counts once.
  points: Float32Array.of(0, 0, 1, 4, 0, 1, 4, 2, 1, 0, 2, 1, 0, 0, 1),
  isLoop: true,
};
const SPOTS: MarkPicture = { code: 'welded-near', points: Float32Array.of(1, 2, 3, 4, 5, 6), isLoop: false };
const PATCH: MarkPicture = {
  code: 'cropped',
  points: Float32Array.of(9, 9, 9),
  isLoop: false,
  tris: new Float32Array(9 * 4),
  faces: 12,
};

describe('places of what was found', () => {
  it('a loop by its middle, points one by one, only those of the kind', () => {
    const marks = [SQUARE, SPOTS, PATCH];
    expect(placesOf(marks, 'holes-left')).toEqual([[2, 1, 1]]);
    expect(placesOf(marks, 'welded-near')).toEqual([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expect(placesOf(marks, 'cropped')).toEqual([[9, 9, 9]]);
    expect(placesOf(marks, 'welded')).toEqual([]);
  });

  it('tells how many faces are not drawn, over all patches of a kind', () => {
    expect(facesLeftOut([PATCH, { ...PATCH, faces: 4 }], 'cropped')).toEqual({ drawn: 8, faces: 16 });
    expect(facesLeftOut([{ ...PATCH, faces: 4 }], 'cropped')).toBeNull();
    expect(facesLeftOut([SPOTS], 'welded-near')).toBeNull();
  });

  it('which kind is shown is kept between visits; anything but a text is none', () => {
    expect(readViewPrefs({ foundShown: 'cropped' }).foundShown).toBe('cropped');
    expect(readViewPrefs({ foundShown: 3 }).foundShown).toBe(DEFAULT_VIEW_PREFS.foundShown);
  });
});
