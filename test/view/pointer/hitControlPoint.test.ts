import { describe, expect, test } from 'vitest';
import {
  hitControlPoint,
  MOUSE_RADIUS_PX,
  TOUCH_RADIUS_PX,
} from '../../../src/view/pointer/hitControlPoint.ts';

const at = (line: number, point: number, x: number, y: number, visible = true) => ({
  line,
  point,
  x,
  y,
  visible,
});

describe('hitControlPoint', () => {
  // WCAG 2.2, 2.5.5 Target Size (Enhanced): at least 44 by 44 CSS pixels.
  test("a finger's target is 44 px across", () => {
    expect(2 * TOUCH_RADIUS_PX).toBeGreaterThanOrEqual(44);
    const points = [at(0, 3, 100, 100)];
    expect(hitControlPoint(points, 100 + 22, 100, TOUCH_RADIUS_PX)).toEqual({ line: 0, point: 3 });
    expect(hitControlPoint(points, 100 + 22.1, 100, TOUCH_RADIUS_PX)).toBeNull();
    // A square of 44 px has corners beyond the circle; the corner itself is not claimed.
    expect(hitControlPoint(points, 120, 120, TOUCH_RADIUS_PX)).toBeNull();
  });

  test('a mouse reaches less far', () => {
    const points = [at(0, 0, 50, 50)];
    expect(hitControlPoint(points, 50, 50 + MOUSE_RADIUS_PX, MOUSE_RADIUS_PX)).not.toBeNull();
    expect(hitControlPoint(points, 50, 50 + TOUCH_RADIUS_PX, MOUSE_RADIUS_PX)).toBeNull();
  });

  test('the nearest wins, across lines', () => {
    const points = [at(0, 0, 100, 100), at(1, 4, 110, 100), at(1, 5, 130, 100)];
    expect(hitControlPoint(points, 107, 100, TOUCH_RADIUS_PX)).toEqual({ line: 1, point: 4 });
    expect(hitControlPoint(points, 104, 100, TOUCH_RADIUS_PX)).toEqual({ line: 0, point: 0 });
  });

  test('what the mould hides is not grabbed, even right under the pointer', () => {
    const points = [at(0, 0, 100, 100, false), at(0, 1, 110, 100)];
    expect(hitControlPoint(points, 100, 100, TOUCH_RADIUS_PX)).toEqual({ line: 0, point: 1 });
    expect(hitControlPoint(points.slice(0, 1), 100, 100, TOUCH_RADIUS_PX)).toBeNull();
  });

  test('of equally near ones the first; none of none', () => {
    expect(hitControlPoint([at(0, 0, 90, 0), at(0, 1, 110, 0)], 100, 0, 22)).toEqual({ line: 0, point: 0 });
    expect(hitControlPoint([], 0, 0, 22)).toBeNull();
  });
});
