import { expect, it } from 'vitest';
import { buildTwins } from '../../../src/core/mesh/buildTwins.ts';
import { lidArea } from '../../../src/core/mesh/lidArea.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { traceLoops } from '../../../src/core/mesh/traceLoops.ts';
import { box, cylinder } from '../../fixtures/shapes.ts';

const lids = (mesh: TriMesh): number[] =>
  traceLoops(buildTwins(mesh.indices).twins).map((loop) => lidArea(mesh, loop));

/** Without the faces all of whose corners fulfil `isGone`. */
function without(mesh: TriMesh, isGone: (x: number, y: number, z: number) => boolean): TriMesh {
  const { positions: p, indices } = mesh;
  const kept: number[] = [];
  for (let t = 0; t < indices.length; t += 3) {
    const tri = [...indices.subarray(t, t + 3)];
    if (!tri.every((v) => isGone(p[3 * v], p[3 * v + 1], p[3 * v + 2]))) kept.push(...tri);
  }
  return { positions: p, indices: Uint32Array.from(kept) };
}

it('an open top has its polygon for a lid (n/2 r2 sin(2 pi/n)), the foot on the board none', () => {
  const top = lids(without(cylinder(10, 20, 24), (_x, _y, z) => z === 20));
  expect(top).toHaveLength(1);
  expect(top[0]).toBeCloseTo(12 * 100 * Math.sin((2 * Math.PI) / 24), 9);
  expect(lids(without(cylinder(10, 20, 24), (_x, _y, z) => z === 0))).toEqual([0]);
});

it('of a side that is gone down to the open foot, the side is the lid', () => {
  const open = without(
    without(box(10, 20, 30), (_x, _y, z) => z === 0),
    (x) => x === 10,
  );
  const [area] = lids(open);
  expect(area).toBeCloseTo(20 * 30, 9);
});
