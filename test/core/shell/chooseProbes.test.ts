import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { chooseProbes } from '../../../src/core/shell/chooseProbes.ts';

/** Points 10 mm apart along x, thinner to the left, in two pieces. */
const COUNT = 40;
const mesh: TriMesh = {
  positions: Float64Array.from({ length: 3 * COUNT }, (_, i) => (i % 3 === 0 ? 10 * (i / 3) : 0)),
  indices: new Uint32Array(0),
};
const vertRegion = Int32Array.from({ length: COUNT }, (_, v) => (v < 20 ? 0 : v < 38 ? 1 : -1));

describe('chooseProbes', () => {
  const thicknessMm = Float64Array.from({ length: COUNT }, (_, v) => 5 + v / 10);
  thicknessMm[0] = Number.NaN;
  thicknessMm[1] = Infinity;
  // A quarter of the root of the area: 40 mm apart.
  const probes = chooseProbes(mesh, thicknessMm, vertRegion, [160 ** 2, 160 ** 2]);

  it('begins at the thinnest of each piece and keeps the points apart', () => {
    const left = probes.filter((probe) => probe.region === 0);
    expect(left.map((probe) => probe.pointMm[0])).toEqual([20, 60, 100, 140, 180]);
    expect(left.map((probe) => probe.predictedMm)).toEqual([5.2, 5.6, 6, 6.4, 6.8]);
  });

  it('takes no vertex without a piece or a thickness, and at most six a piece', () => {
    expect(probes.every((probe) => Number.isFinite(probe.predictedMm))).toBe(true);
    expect(Math.max(...probes.map((probe) => probe.pointMm[0]))).toBeLessThan(380);
    const close = chooseProbes(mesh, thicknessMm, vertRegion, [1, 1]);
    expect(close.filter((probe) => probe.region === 1)).toHaveLength(6);
  });
});
