import { describe, expect, it } from 'vitest';
import { draftAtCorners } from '../../../src/core/maps/draftAtCorners.ts';
import { box, octasphere } from '../../fixtures/shapes.ts';

const DEG = 180 / Math.PI;

describe('draftAtCorners', () => {
  it('a box pulled up: lid 90, walls 0, foot -90 up to their sharp edges', () => {
    const mesh = box(30, 20, 10);
    const draft = draftAtCorners(mesh.positions, mesh.indices, [0, 0, 1]);
    const met = new Map<number, number>();
    for (const value of draft)
      met.set(Math.round(value * 1e4) / 1e4 + 0, (met.get(Math.round(value * 1e4) / 1e4 + 0) ?? 0) + 1);
    // Own arithmetic: two triangles of three corners a face; four faces are walls.
    expect([...met].sort((a, b) => a[0] - b[0])).toEqual([
      [-90, 6],
      [0, 24],
      [90, 6],
    ]);
  });

  it('a wall that leans by 10 degrees has that draft', () => {
    const lean = Math.tan(10 / DEG);
    const wall = [0, 0, 0, 10, 0, 0, 10, lean * 10, 10];
    // Counter-clockwise seen from -y; it leans back toward +y as it rises, so it looks up by 10 degrees.
    const draft = draftAtCorners(wall, [0, 1, 2], [0, 0, 1]);
    for (const value of draft) expect(value).toBeCloseTo(10, 4);
  });

  it('on a sphere the draft is the latitude about the pull', () => {
    const mesh = octasphere(40, 24);
    const pull = [0.6, 0, 0.8] as const;
    const draft = draftAtCorners(mesh.positions, mesh.indices, pull);
    for (let c = 0; c < draft.length; c++) {
      const at = 3 * mesh.indices[c];
      const [x, y, z] = [mesh.positions[at], mesh.positions[at + 1], mesh.positions[at + 2]];
      const sine = (pull[0] * x + pull[2] * z) / Math.hypot(x, y, z);
      // A facet spans 90/24 degrees; its neighbours' mean leans by at most half of one.
      expect(Math.abs(draft[c] - DEG * Math.asin(Math.max(-1, Math.min(1, sine))))).toBeLessThan(90 / 24 / 2);
    }
  });

  it('says nothing of a triangle without area', () => {
    expect([...draftAtCorners([0, 0, 0, 1, 0, 0, 2, 0, 0], [0, 1, 2], [0, 0, 1])]).toEqual([NaN, NaN, NaN]);
  });
});
