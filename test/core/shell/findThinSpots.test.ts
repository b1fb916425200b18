import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { findThinSpots, type ThinGround } from '../../../src/core/shell/findThinSpots.ts';
import type { VertexCurvature } from '../../../src/core/shell/measureCurvature.ts';

/** Points in a row, 10 mm apart, joined by triangles to a row 10 mm behind: vertex n in front, n + count behind. */
function stripOf(count: number): TriMesh {
  const positions = Float64Array.from({ length: 6 * count }, (_, i) => {
    const v = Math.floor(i / 3);
    return i % 3 === 0 ? 10 * (v % count) : i % 3 === 1 ? (v < count ? 0 : 10) : 0;
  });
  const indices = Array.from({ length: count - 1 }, (_, n) => [
    n,
    n + 1,
    n + count + 1,
    n,
    n + count + 1,
    n + count,
  ]).flat();
  return { positions, indices: Uint32Array.from(indices) };
}

const even = (count: number, mean: number, gauss: number, area: number): VertexCurvature => ({
  meanPerMm: new Float64Array(count).fill(mean),
  gaussPerMm2: new Float64Array(count).fill(gauss),
  areaMm2: new Float64Array(count).fill(area),
});

/** A strip of `front.length` columns, the same thickness in front and behind. */
function ground(
  front: readonly number[],
  regions: readonly number[],
  changes: Partial<ThinGround> = {},
): ThinGround {
  return {
    mesh: stripOf(front.length),
    thicknessMm: Float64Array.from([...front, ...front]),
    curvature: even(2 * front.length, 0, 0, 50),
    innerMm: 0,
    vertRegion: Int32Array.from([...regions, ...regions]),
    regionCount: 2,
    ...changes,
  };
}

describe('findThinSpots', () => {
  it('patches that hang together, by region, the one that lacks most first', () => {
    // Columns:                       thin  thin  -    thin | the line | thin  -
    const [left, right] = findThinSpots(ground([5, 5.5, 8, 2, 4, 8], [0, 0, 0, 0, 1, 1]), 6, 9.5);
    expect(left.minMm).toBe(2);
    expect(left.areaBelowMm2).toBe(300);
    expect(left.spots.map((spot) => [spot.areaMm2, spot.minMm, spot.atMm[0]])).toEqual([
      [100, 2, 30],
      [200, 5, 0],
    ]);
    // On flat ground what lacks is the difference of the heights: 2 x 50 x 4, and 2 x 50 x (1 + 0.5).
    expect(left.spots.map((spot) => spot.lackMm3)).toEqual([400, 150]);
    expect(left.spots[0].mostLackMm).toBe(4);
    expect(left.spots[0].outward).toEqual([0, 0, 1]);
    expect(right.spots.map((spot) => [spot.areaMm2, spot.minMm])).toEqual([[100, 4]]);
  });

  it('on a ridge more is lacking than the heights differ by: a cylinder of 5 mm', () => {
    const round = ground([3, 3], [0, 0], { curvature: even(4, 1 / 10, 0, 50) });
    const [{ spots }] = findThinSpots(round, 6, 9.5);
    // Area per unit of rubber between 5 + 3 and 5 + 6: ((11^2 - 8^2) / (2 * 5)) = 5.7, over 4 x 50 mm2. Own arithmetic.
    expect(spots[0].lackMm3).toBeCloseTo(5.7 * 200, 9);
  });

  it('over a bare pattern the area is that of the rubber’s outside', () => {
    // A cylinder of 5 mm under 5 mm of rubber: twice the area.
    const bare = ground([3, 3], [0, 0], { curvature: even(4, 1 / 10, 0, 50), innerMm: 5 });
    const [{ areaBelowMm2 }] = findThinSpots(bare, 6, 9.5);
    expect(areaBelowMm2).toBeCloseTo(400, 9);
  });

  it('hollows that fill and places where nothing is laid are no spots; a piece of such has the thickness laid', () => {
    const [left, right] = findThinSpots(ground([Infinity, Number.NaN, Infinity], [0, 0, 0]), 6, 9.5);
    expect(left).toEqual({ minMm: 9.5, areaBelowMm2: 0, spots: [] });
    expect(right).toEqual({ minMm: 9.5, areaBelowMm2: 0, spots: [] });
  });
});
