import { describe, expect, test } from 'vitest';
import {
  aimed,
  cutDepthMm,
  cutNormal,
  draftOfCrop,
  firstCut,
  flipped,
  planeOfCut,
  SIDE_AZIMUTHS_DEG,
  slanted,
  withDepth,
} from '../../src/session/cutDraft.ts';

/** A mould 60 wide, 40 deep, 100 tall, off the middle. */
const BOX = { min: [-10, -30, 0], max: [50, 10, 100] } as const;

describe('cutDraft', () => {
  test('a level cut is measured above the board and takes what is below', () => {
    const draft = withDepth(firstCut('level', BOX), 7, BOX);
    expect(planeOfCut(draft)).toEqual({ normal: [0, 0, -1], offsetMm: -7 });
    // The first one takes a twentieth of the height.
    expect(cutDepthMm(firstCut('level', BOX), BOX)).toBeCloseTo(5, 12);
  });

  test.each([
    ['left', [-1, 0, 0], 10 - 3],
    ['right', [1, 0, 0], 50 - 3],
    ['front', [0, -1, 0], 30 - 3],
    ['back', [0, 1, 0], 10 - 3],
  ] as const)('from the %s it takes so much off that side', (side, normal, offsetMm) => {
    const draft = aimed(firstCut('upright', BOX), { azimuthDeg: SIDE_AZIMUTHS_DEG[side] }, BOX);
    expect(planeOfCut(withDepth(draft, 3, BOX))).toEqual({ normal, offsetMm });
  });

  test('turned round it is the same plane with the other side going, and twice round the same cut', () => {
    for (const kind of ['level', 'upright', 'free'] as const) {
      const draft = firstCut(kind, BOX);
      const other = planeOfCut(flipped(draft));
      planeOfCut(draft).normal.forEach((n, k) => {
        expect(other.normal[k]).toBeCloseTo(-n, 12);
      });
      expect(other.offsetMm).toBeCloseTo(-draft.offsetMm, 12);
      expect(flipped(flipped(draft))).toEqual(draft);
    }
  });

  test('slanted about a point it keeps that point in its plane', () => {
    const at = [12, -3, 40] as const;
    const draft = slanted(firstCut('free', BOX), { slopeDeg: 25, azimuthDeg: 70 }, at);
    const n = cutNormal(draft);
    expect(Math.hypot(...n)).toBeCloseTo(1, 12);
    expect(n[2]).toBeCloseTo(Math.sin((25 * Math.PI) / 180), 12);
    expect(n[0] * at[0] + n[1] * at[1] + n[2] * at[2]).toBeCloseTo(draft.offsetMm, 12);
  });

  test("the plan's plane comes back as the draft that makes it, whatever its normal's length", () => {
    for (const draft of [
      firstCut('level', BOX),
      flipped(firstCut('level', BOX)),
      firstCut('upright', BOX),
      slanted(firstCut('free', BOX), { slopeDeg: 33, azimuthDeg: 123 }, [1, 2, 3]),
    ]) {
      const { normal, offsetMm } = planeOfCut(draft);
      const [x, y, z] = normal;
      const back = draftOfCrop({ normal: [2 * x, 2 * y, 2 * z], offsetMm: 2 * offsetMm });
      expect(back.kind).toBe(draft.kind);
      const plane = planeOfCut(back);
      expect(plane.offsetMm).toBeCloseTo(offsetMm, 9);
      normal.forEach((n, k) => {
        expect(plane.normal[k]).toBeCloseTo(n, 9);
      });
    }
  });
});
