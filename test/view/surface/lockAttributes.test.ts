import { describe, expect, it } from 'vitest';
import { lockAttributes } from '../../../src/view/surface/lockAttributes.ts';

describe('lockAttributes', () => {
  // Two triangles on either side of an edge; vertex 4 is the picture's vertex 1 a second time, split at a crease.
  const corners = Uint32Array.of(0, 1, 2, 2, 4, 3);
  const sources = Uint32Array.of(0, 1, 2, 2, 1, 3);

  it('shares a vertex out among the kinds of its triangles, and gives split vertices the depth they came from', () => {
    const { shares, depthMm } = lockAttributes(
      { kind: Uint8Array.of(1, 3), depthMm: Float32Array.of(2, 4, 6, 8) },
      corners,
      sources,
      5,
    );
    const of = (v: number) => [...shares.subarray(4 * v, 4 * v + 4)];
    expect(of(0)).toEqual([255, 0, 0, 0]);
    expect(of(1)).toEqual([255, 0, 0, 0]);
    expect(of(2)).toEqual([127, 0, 127, 0]);
    expect(of(3)).toEqual([0, 0, 255, 0]);
    expect(of(4)).toEqual([0, 0, 255, 0]);
    expect([...depthMm]).toEqual([2, 4, 6, 8, 4]);
  });

  it('a free triangle takes its share, so that the border lies in the middle between free and locked', () => {
    const { shares } = lockAttributes(
      { kind: Uint8Array.of(2, 0), depthMm: new Float32Array(4) },
      Uint32Array.of(0, 1, 2, 2, 1, 3),
      sources,
      4,
    );
    const sum = (v: number) => shares.subarray(4 * v, 4 * v + 4).reduce((a, b) => a + b, 0);
    expect([sum(0), sum(1), sum(2), sum(3)]).toEqual([255, 127, 127, 0]);
  });
});
