import { type Triangle, Vector3 } from 'three';
import { ExtendedTriangle } from 'three-mesh-bvh';
import { expect, it } from 'vitest';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { findCrossings } from '../../../src/core/spatial/findCrossings.ts';
import { tangle } from '../../fixtures/dirty/shapeDefects.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, joined, moved, octasphere, openHalfSphere, turned } from '../../fixtures/shapes.ts';

/** Every pair by the library's own triangle test, which goes by intervals on the planes' common line. */
function byBruteForce(mesh: TriMesh): number[] {
  const count = mesh.indices.length / 3;
  const tris = Array.from({ length: count }, (_, t) => {
    const corners = [0, 1, 2].map((k) =>
      new Vector3().fromArray(mesh.positions, 3 * mesh.indices[3 * t + k]),
    );
    const tri = new ExtendedTriangle(...(corners as [Vector3, Vector3, Vector3]));
    tri.needsUpdate = true;
    return tri;
  });
  const isCrossing = new Set<number>();
  for (let t = 0; t < count; t++) {
    const own = new Set(mesh.indices.subarray(3 * t, 3 * t + 3));
    for (let s = t + 1; s < count; s++) {
      if (mesh.indices.subarray(3 * s, 3 * s + 3).some((v) => own.has(v))) continue;
      if (tris[t].intersectsTriangle(tris[s] as Triangle & ExtendedTriangle)) {
        isCrossing.add(t);
        isCrossing.add(s);
      }
    }
  }
  return [...isCrossing].sort((a, b) => a - b);
}

it('none on a body that does not cross itself, nor where two faces lie on each other', () => {
  expect(findCrossings(octasphere(30, 16))).toHaveLength(0);
  expect(findCrossings(joined(box(10, 10, 10), moved(box(10, 10, 10), [10, 0, 0])))).toHaveLength(0);
});

it('a bar through a plate: the four sides of the bar, and the two faces of each side of the plate that it comes through', () => {
  const plate = moved(box(40, 40, 2), [-17, -23, 0]);
  const bar = moved(box(2, 2, 20), [0, 0, -9]);
  // Eight faces of the bar's sides; the plate's diagonals keep clear of the bar, so one face above and one below.
  expect(findCrossings(joined(plate, bar))).toHaveLength(8 + 2);
});

it('the same faces as every pair tested one by one', () => {
  const pair = joined(octasphere(30, 8), moved(turned(octasphere(10, 6), [1, 2, 3], 0.4), [28, 3, 2]));
  const folded = tangle(12)(openHalfSphere(30, 10), seededRandom(3)).mesh;
  for (const mesh of [pair, folded]) {
    const expected = byBruteForce(mesh);
    expect(expected.length).toBeGreaterThan(10);
    expect(Array.from(findCrossings(mesh))).toEqual(expected);
  }
});
