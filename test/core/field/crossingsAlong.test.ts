import { expect, test } from 'vitest';
import { crossingsAlong } from '../../../src/core/field/crossingsAlong.ts';
import { type OrderedSurface, orderSurface } from '../../../src/core/field/OrderedSurface.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { WindingTree } from '../../../src/core/spatial/WindingTree.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, moved, octasphere, torus, turned } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from '../parting/preparedFromMesh.ts';

function ordered(mesh: TriMesh): OrderedSurface {
  const { twins, isSurface } = preparedFromMesh(mesh, false);
  return orderSurface(mesh, twins, isSurface);
}

/** Both meshes as one, not united. */
function together(one: TriMesh, other: TriMesh): TriMesh {
  const shift = one.positions.length / 3;
  return {
    positions: Float64Array.from([...one.positions, ...other.positions]),
    indices: Uint32Array.from([...one.indices, ...[...other.indices].map((v) => v + shift)]),
  };
}

test.each([
  ['torus', turned(torus(20, 6, 60, 24), [1, 2, 3], 0.7)],
  ['two spheres through one another', together(octasphere(15, 12), moved(octasphere(12, 10), [10, 2, 1]))],
] as const)('%s: equals the winding number at 400 random points, along every axis, seed 5', (_name, mesh) => {
  const random = seededRandom(5);
  const points = Float64Array.from({ length: 1200 }, () => 50 * (random() - 0.5));
  const surface = ordered(mesh);
  const tree = new WindingTree(mesh, { mirrorInBoard: false });
  for (const axis of [0, 1, 2] as const) {
    const counts = crossingsAlong(axis, surface, points);
    for (let n = 0; n < 400; n++) {
      const w = tree.windingNumber(points[3 * n], points[3 * n + 1], points[3 * n + 2]);
      expect(counts[n], `axis ${axis}, point ${n}`).toBeCloseTo(w, 1);
    }
  }
});

test('a ray through corners and edges counts each surface once', () => {
  // The corners of the division lie on whole parts of the axes: rays through poles, edges, and along upright edges.
  const sphere = ordered(octasphere(10, 8));
  const inBox = ordered(box(4, 4, 4));
  expect([
    ...crossingsAlong(2, sphere, Float64Array.from([0, 0, 0, 0, 0, -20, 0, 0, 20, 3, 0, 0, 0, 3, 1])),
  ]).toEqual([1, 0, 0, 1, 1]);
  // On the diagonals of bottom and top; and in the upright faces, where it may count as in or out but by whole numbers.
  expect([...crossingsAlong(2, inBox, Float64Array.from([2, 2, 2, 1, 1, 3, 2, 2, -1, 2, 2, 5]))]).toEqual([
    1, 1, 0, 0,
  ]);
  for (const count of crossingsAlong(2, inBox, Float64Array.from([0, 2, 2, 4, 2, 2, 0, 0, 2, 4, 4, 2]))) {
    expect([0, 1]).toContain(count);
  }
});
