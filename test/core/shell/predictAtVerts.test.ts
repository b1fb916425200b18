import { describe, expect, it } from 'vitest';
import type { VertexCurvature } from '../../../src/core/shell/measureCurvature.ts';
import { outsideAtVerts, predictAtVerts } from '../../../src/core/shell/predictAtVerts.ts';

const curvature = (mean: number, gauss: number, area = 1): VertexCurvature => ({
  meanPerMm: Float64Array.from([mean]),
  gaussPerMm2: Float64Array.from([gauss]),
  areaMm2: Float64Array.from([area]),
});

describe('predictAtVerts', () => {
  it('over a bare pattern the curvature is that of the rubber’s outside', () => {
    // A sphere of 20 mm under 10 mm of rubber is one of 30 mm.
    const bare = predictAtVerts(curvature(1 / 20, 1 / 400), 6, 10);
    const rubber = predictAtVerts(curvature(1 / 30, 1 / 900), 6, 0);
    expect(bare[0]).toBeCloseTo(rubber[0], 12);
    expect(predictAtVerts(curvature(0, 0, 0), 6, 0)[0]).toBeNaN();
  });

  it('a hollow that fills reaches to where it is full: the axis of a groove of 15 mm radius', () => {
    const groove = curvature(-1 / 30, 0);
    const thickness = predictAtVerts(groove, 9.5, 0);
    expect(thickness[0]).toBe(Infinity);
    expect(outsideAtVerts(thickness, groove, 9.5, 0)[0]).toBeCloseTo(15, 9);
    // With 4 mm of rubber over a bare pattern the groove is one of 11 mm, its axis where it was.
    const under = predictAtVerts(groove, 9.5, 4);
    expect(under[0]).toBe(Infinity);
    expect(outsideAtVerts(under, groove, 9.5, 4)[0]).toBeCloseTo(15, 9);
    const flat = curvature(0, 0);
    expect(outsideAtVerts(predictAtVerts(flat, 9.5, 4), flat, 9.5, 4)[0]).toBeCloseTo(13.5, 9);
  });
});
