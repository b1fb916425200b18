import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import { signedVolume } from '../../../src/core/mesh/measure.ts';
import { uniteSolids } from '../../../src/core/shell/uniteSolids.ts';
import { expectValidMesh, volumeAlongX } from '../../expectValidMesh.ts';
import { box, moved, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';

/** Positions come back in single precision: 2^-24 of the size, three factors of it in a volume. */
const SINGLE_SHARE = 1e-6;

describe('uniteSolids', () => {
  it('two boxes that overlap by a known box', async () => {
    const made = await uniteSolids(box(10, 10, 10), [moved(box(10, 10, 10), [5, 4, 3])], false);
    const shared = 5 * 6 * 7;
    expect(Math.abs(made.volumeMm3 - (2000 - shared))).toBeLessThan(2000 * SINGLE_SHARE);
    expect(Math.abs(made.addedMm3[0] - (1000 - shared))).toBeLessThan(2000 * SINGLE_SHARE);
    expectValidMesh(made.mesh);
    expect(Math.abs(volumeAlongX(made.mesh) - made.volumeMm3)).toBeLessThan(2000 * SINGLE_SHARE);
  });

  it('a part that lies inside adds nothing; a second one counts only what the first left', async () => {
    const made = await uniteSolids(
      box(10, 10, 10),
      [moved(box(2, 2, 2), [4, 4, 4]), moved(box(4, 4, 4), [8, 3, 3]), moved(box(4, 4, 4), [8, 3, 3])],
      false,
    );
    expect(made.addedMm3[0]).toBeCloseTo(0, 3);
    expect(made.addedMm3[1]).toBeCloseTo(2 * 4 * 4, 3);
    expect(made.addedMm3[2]).toBeCloseTo(0, 3);
  });

  it('on a board: an open dome is closed, a part is cut off at z = 0, the base lies exactly on it', async () => {
    const dome = openHalfSphere(20, 24);
    const ball = moved(octasphere(8, 16), [20, 0, 0]);
    const made = await uniteSolids(dome, [ball], true);
    expectValidMesh(made.mesh);
    const { positions } = made.mesh;
    let lowest = Infinity;
    for (let z = 2; z < positions.length; z += 3) lowest = Math.min(lowest, positions[z]);
    expect(lowest).toBe(0);
    expect(made.bodyMm3).toBeCloseTo(signedVolume(dome), 1);
    // Half of the ball is below the board; what is above and outside the dome lies between none and all of its half.
    expect(made.addedMm3[0]).toBeGreaterThan(0.3 * (signedVolume(ball) / 2));
    expect(made.addedMm3[0]).toBeLessThan(signedVolume(ball) / 2);
    expect(Math.abs(made.volumeMm3 - made.bodyMm3 - made.addedMm3[0])).toBeLessThan(0.01);
  });

  it('a body that is not closed is refused with a plan error that says so', async () => {
    const open = openHalfSphere(20, 8);
    await expect(uniteSolids(open, [box(1, 1, 1)], false)).rejects.toThrowError(
      /The rubber is no closed solid/,
    );
    await expect(uniteSolids(open, [box(1, 1, 1)], false)).rejects.toBeInstanceOf(PlanError);
  });
});
