import { describe, expect, it } from 'vitest';
import { measureFoot } from '../../../src/core/mesh/measureFoot.ts';
import { box, cylinder, moved, openHalfSphere } from '../../fixtures/shapes.ts';

/** The shape with its lowest point in z = 0. */
function standing(mesh: ReturnType<typeof box>) {
  let lowest = Infinity;
  for (let i = 2; i < mesh.positions.length; i += 3) lowest = Math.min(lowest, mesh.positions[i]);
  return moved(mesh, [0, 0, -lowest]);
}

describe('outline on the board', () => {
  it('box of 200 x 150 mm: 700 mm, its base left out', () => {
    expect(measureFoot(standing(box(200, 150, 100)))).toBeCloseTo(700, 9);
  });

  it('cylinder: the polygon of its base, 2 n r sin(pi / n)', () => {
    expect(measureFoot(standing(cylinder(50, 120, 32)))).toBeCloseTo(2 * 32 * 50 * Math.sin(Math.PI / 32), 9);
  });

  it('open half sphere: nearly its equator, from inside', () => {
    const foot = measureFoot(standing(openHalfSphere(100, 24)));
    expect(foot).toBeLessThan(2 * Math.PI * 100);
    expect(foot).toBeGreaterThan(2 * Math.PI * 100 * 0.995);
  });

  it('nothing where the surface hangs over the board', () => {
    expect(measureFoot(moved(standing(box(200, 150, 100)), [0, 0, 5]))).toBe(0);
  });
});
