import { describe, expect, it } from 'vitest';
import { measureBends } from '../../../src/core/shell/measureBends.ts';
import { box, octasphere } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from '../parting/preparedFromMesh.ts';

describe('bends', () => {
  it('box: half of 4 (a + b + c) of edges times 2 tan 45 degrees, flat diagonals none', () => {
    const { mesh, twins } = preparedFromMesh(box(20, 15, 10), false);
    const sum = measureBends(mesh, twins).reduce((a, b) => a + b, 0);
    expect(sum).toBeCloseTo(4 * 45, 9);
  });

  it('sphere: the integral of its mean curvature, 4 pi R, to the square of its edges', () => {
    const { mesh, twins } = preparedFromMesh(octasphere(10, 16), false);
    const sum = measureBends(mesh, twins).reduce((a, b) => a + b, 0);
    // Edges of 1/16 of a right angle up to sqrt 2 of that: chord against arc 1 - (0.14)^2 / 24, sagittae as much again.
    expect(Math.abs(sum / (40 * Math.PI) - 1)).toBeLessThan(4e-3);
  });
});
