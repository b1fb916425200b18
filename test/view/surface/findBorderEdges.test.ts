import { describe, expect, test } from 'vitest';
import { findBorderEdges } from '../../../src/view/surface/findBorderEdges.ts';

/** Upright square of side 10 standing on the board, cut in two triangles. */
const positions = new Float32Array([0, 0, 0, 10, 0, 0, 10, 0, 10, 0, 0, 10]);
const indices = new Uint32Array([0, 1, 2, 0, 2, 3]);

const pairs = (edges: readonly number[]): string[] =>
  Array.from({ length: edges.length / 2 }, (_, i) => `${edges[2 * i]}-${edges[2 * i + 1]}`).sort();

describe('findBorderEdges', () => {
  test('finds the rim, not the diagonal, and leaves out what stands on the board', () => {
    expect(pairs(findBorderEdges(positions, indices, 0.02))).toEqual(['0-3', '1-2', '2-3']);
    expect(pairs(findBorderEdges(positions, indices, -1))).toEqual(['0-1', '0-3', '1-2', '2-3']);
  });

  test('a closed surface has none', () => {
    const tetrahedron = new Uint32Array([0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3]);
    expect(findBorderEdges(new Float32Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1]), tetrahedron, -1)).toEqual(
      [],
    );
  });
});
