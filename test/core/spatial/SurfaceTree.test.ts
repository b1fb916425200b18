import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { describe, expect, it } from 'vitest';
import { closestOnTriangle } from '../../../src/core/field/closestOnTriangle.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { newClosestPoint, SurfaceTree } from '../../../src/core/spatial/SurfaceTree.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, joined, moved, octasphere, scaled } from '../../fixtures/shapes.ts';

/** The simple way: every triangle. */
function nearestOfAll({ positions, indices }: TriMesh, q: readonly number[]): number {
  const out = new Float64Array(4);
  let best2 = Infinity;
  for (let t = 0; t < indices.length / 3; t++) {
    closestOnTriangle(positions, indices, t, q[0], q[1], q[2], out);
    best2 = Math.min(best2, out[3]);
  }
  return Math.sqrt(best2);
}

/** The package's own tree and question over the same triangles. */
function treeOfPackage({ positions, indices }: TriMesh): MeshBVH {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setIndex(new BufferAttribute(indices, 1));
  return new MeshBVH(geometry, { indirect: true });
}

const ball = octasphere(30, 6);
const BODIES: Readonly<Record<string, TriMesh>> = {
  ball,
  'box of twelve faces': box(30, 20, 10),
  'one triangle': {
    positions: Float64Array.from([0, 0, 0, 3, 0, 0, 0, 2, 0]),
    indices: Uint32Array.of(0, 1, 2),
  },
  'a flat sheet far away': moved(scaled(ball, [1, 1, 0]), [1e6, -2e6, 3]),
  // More triangles in one place than a leaf holds, which no bit of the curve tells apart.
  'forty times the same': Array.from({ length: 39 }, () => box(1, 1, 1)).reduce(joined, box(1, 1, 1)),
  'large and tiny side by side': joined(
    scaled(ball, [10, 10, 10]),
    moved(scaled(ball, [1e-3, 1e-3, 1e-3]), [400, 0, 0]),
  ),
};

describe.each(Object.entries(BODIES))('%s (seed 11)', (_, mesh) => {
  const random = seededRandom(11);
  const tree = new SurfaceTree(mesh);
  const known = treeOfPackage(mesh);
  const { positions: p, indices } = mesh;
  const corner = (): number[] => {
    const v = 3 * indices[Math.floor(random() * indices.length)];
    return [p[v], p[v + 1], p[v + 2]];
  };
  const size = Math.hypot(
    ...[0, 1, 2].map(
      (k) => Math.max(...p.filter((_x, i) => i % 3 === k)) - Math.min(...p.filter((_x, i) => i % 3 === k)),
    ),
  );

  it('nearest points are those of every triangle looked at, and of the package', () => {
    const out = newClosestPoint();
    const scratch = new Float64Array(4);
    for (let n = 0; n < 24; n++) {
      // On a corner, near, and far.
      const away = [0, 0.02, 2][n % 3] * size;
      const q = corner().map((x) => x + away * (random() - 0.5));
      tree.closestPoint(q[0], q[1], q[2], out);
      const tolerance = 1e-12 * (size + Math.hypot(...q));
      expect(Math.abs(out.distance - nearestOfAll(mesh, q))).toBeLessThanOrEqual(tolerance);
      const other = known.closestPointToPoint(new Vector3(...q));
      expect(Math.abs(out.distance - (other?.distance ?? Number.NaN))).toBeLessThanOrEqual(1e3 * tolerance);
      // The triangle told is one that has the point.
      closestOnTriangle(p, indices, out.tri, q[0], q[1], q[2], scratch);
      expect([...out.point]).toEqual([scratch[0], scratch[1], scratch[2]]);
    }
  });

  it('rays meet what they meet in the package', () => {
    let met = 0;
    for (let n = 0; n < 24; n++) {
      const [x, y, z] = corner().map((c) => c + 2 * size * (random() - 0.5));
      const to = corner();
      // Into a face, not at an edge, where either neighbour may be told.
      const way = [
        to[0] + 0.013 * size * random() - x,
        to[1] + 0.017 * size * random() - y,
        to[2] + 0.011 * size - z,
      ];
      const length = Math.hypot(...way);
      const direction = [way[0] / length, way[1] / length, way[2] / length] as const;
      const hit = tree.firstHit([x, y, z], direction);
      const expected = known.raycastFirst(
        new Ray(new Vector3(x, y, z), new Vector3(...direction)),
        DoubleSide,
      );
      expect(hit?.distance ?? null).toBe(expected?.distance ?? null);
      if (hit) met++;
    }
    // What has no inside is seldom met by chance.
    if (indices.length > 3 && size < 1000) expect(met).toBeGreaterThan(0);
  });
});

it('handed over for picking, it finds the same places on the same mesh in Float32 numbers (seed 12)', () => {
  const mesh = moved(ball, [1000, 0, 0]);
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3));
  geometry.setIndex(new BufferAttribute(mesh.indices, 1));
  const tree = new SurfaceTree(mesh);
  const picked = MeshBVH.deserialize(tree.toPickTree(), geometry, { setIndex: false });
  const random = seededRandom(12);
  for (let n = 0; n < 40; n++) {
    const origin = [1000 + 20 * (random() - 0.5), 20 * (random() - 0.5), 90] as const;
    const hit = picked.raycastFirst(new Ray(new Vector3(...origin), new Vector3(0, 0, -1)), DoubleSide);
    // Float32 numbers near 1000 are 6e-5 apart, and the ball's sides there rise less than 45 degrees.
    expect(
      Math.abs((hit?.distance ?? Number.NaN) - (tree.firstHit(origin, [0, 0, -1])?.distance ?? 0)),
    ).toBeLessThan(2e-4);
  }
});
