import { describe, expect, it } from 'vitest';
import { findThin, predictAtVerts } from '../../../src/core/shell/findThin.ts';
import type { VertexCurvature } from '../../../src/core/shell/measureCurvature.ts';

const curvature = (mean: number[], gauss: number[], area: number[]): VertexCurvature =>
  ({
    meanPerMm: Float64Array.from(mean),
    gaussPerMm2: Float64Array.from(gauss),
    areaMm2: Float64Array.from(area),
  }) as VertexCurvature;

describe('thin spots', () => {
  it('the least of each region and the area below what is allowed', () => {
    const report = findThin(
      Float64Array.from([8, 5, 7, 9, Number.NaN, 4]),
      Float64Array.from([1, 2, 4, 8, 16, 32]),
      Int32Array.from([0, 0, 1, 1, 1, -1]),
      2,
      7.5,
      9.5,
    );
    expect(report).toEqual([
      { minMm: 5, areaBelowMm2: 2 },
      { minMm: 7, areaBelowMm2: 4 },
    ]);
  });

  it('a region whose hollows all fill, or without a vertex of its own, has the thickness laid: a number in any case', () => {
    const report = findThin(
      Float64Array.from([Infinity, Infinity]),
      Float64Array.from([1, 1]),
      Int32Array.from([0, 0]),
      2,
      6,
      9.5,
    );
    expect(report).toEqual([
      { minMm: 9.5, areaBelowMm2: 0 },
      { minMm: 9.5, areaBelowMm2: 0 },
    ]);
  });

  it('over a bare pattern the curvature is that of the rubber’s outside', () => {
    // A sphere of 20 mm under 10 mm of rubber is one of 30 mm.
    const bare = predictAtVerts(curvature([1 / 20], [1 / 400], [1]), 6, 10);
    const rubber = predictAtVerts(curvature([1 / 30], [1 / 900], [1]), 6, 0);
    expect(bare[0]).toBeCloseTo(rubber[0], 12);
    expect(predictAtVerts(curvature([0], [0], [0]), 6, 0)[0]).toBeNaN();
  });
});
