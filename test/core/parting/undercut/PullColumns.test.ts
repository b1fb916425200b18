import { describe, expect, it } from 'vitest';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { NearestTris, newNearestTri } from '../../../../src/core/parting/undercut/NearestTris.ts';
import { newColumnHit, PullColumns } from '../../../../src/core/parting/undercut/PullColumns.ts';
import { frameOf, type PullFrame } from '../../../../src/core/parting/undercut/PullFrame.ts';
import { projectVerts } from '../../../../src/core/parting/undercut/projectVerts.ts';
import { newClosestPoint, SurfaceTree } from '../../../../src/core/spatial/SurfaceTree.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, joined, moved, octasphere, torus, turned } from '../../../fixtures/shapes.ts';

/** Spheres, boxes and rings thrown together, overlapping. */
function heap(random: () => number): TriMesh {
  const shapes = [
    octasphere(8 + 6 * random(), 5),
    torus(14, 4, 18, 9),
    box(12, 9, 20),
    octasphere(5 + 6 * random(), 4),
  ];
  return shapes
    .map((shape) =>
      moved(turned(shape, [random(), random() - 0.5, random() - 0.5], 6 * random()), [
        30 * random(),
        30 * random(),
        30 * random(),
      ]),
    )
    .reduce(joined);
}

const toWorld = ({ u, v, d }: PullFrame, at: Vec3): [number, number, number] => [
  at[0] * u[0] + at[1] * v[0] + at[2] * d[0],
  at[0] * u[1] + at[1] * v[1] + at[2] * d[1],
  at[0] * u[2] + at[1] * v[2] + at[2] * d[2],
];

/** All hits of a ray by all triangles, in space (T. Moeller, B. Trumbore, "Fast, minimum storage ray/triangle intersection", 1997): distance, and whether the face looks against the ray. */
function allHits(mesh: TriMesh, from: Vec3, d: Vec3): { distance: number; isEntry: boolean }[] {
  const hits: { distance: number; isEntry: boolean }[] = [];
  const { positions: p, indices } = mesh;
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => {
      const at = 3 * indices[t + k];
      return [p[at], p[at + 1], p[at + 2]];
    });
    const e1 = a.map((x, k) => b[k] - x);
    const e2 = a.map((x, k) => c[k] - x);
    const q = [d[1] * e2[2] - d[2] * e2[1], d[2] * e2[0] - d[0] * e2[2], d[0] * e2[1] - d[1] * e2[0]];
    const det = e1[0] * q[0] + e1[1] * q[1] + e1[2] * q[2];
    if (det === 0) continue;
    const s = from.map((x, k) => x - a[k]);
    const wb = (s[0] * q[0] + s[1] * q[1] + s[2] * q[2]) / det;
    const r = [s[1] * e1[2] - s[2] * e1[1], s[2] * e1[0] - s[0] * e1[2], s[0] * e1[1] - s[1] * e1[0]];
    const wc = (d[0] * r[0] + d[1] * r[1] + d[2] * r[2]) / det;
    if (wb < 0 || wc < 0 || wb + wc > 1) continue;
    // The determinant is above 0 where the ray runs against the normal.
    hits.push({ distance: (e2[0] * r[0] + e2[1] * r[1] + e2[2] * r[2]) / det, isEntry: det > 0 });
  }
  return hits;
}

describe('PullColumns', () => {
  for (const seed of [1, 2, 3, 4]) {
    it(`meets what every triangle asked by itself meets: 3000 rays through a heap of bodies (seed ${seed})`, () => {
      const random = seededRandom(seed);
      const mesh = heap(random);
      const frame = frameOf([random() - 0.5, random() - 0.5, random() - 0.5]);
      const columns = new PullColumns(projectVerts(mesh.positions, frame), mesh.indices);
      const hit = newColumnHit();
      let entered = 0;
      let below = 0;
      for (let n = 0; n < 3000; n++) {
        const { uMin, uMax, vMin, vMax } = columns.extent;
        const at: Vec3 = [
          uMin - 1 + (uMax - uMin + 2) * random(),
          vMin - 1 + (vMax - vMin + 2) * random(),
          columns.lowestMm - 1 + (columns.highestMm - columns.lowestMm + 2) * random(),
        ];
        const hits = allHits(mesh, toWorld(frame, at), frame.d);
        const entries = hits.filter(({ distance, isEntry }) => isEntry && distance > 0);
        expect(columns.enters(at[0], at[1], at[2])).toBe(entries.length > 0);
        expect(columns.isClear(at[0], at[1], at[2])).toBe(hits.every(({ distance }) => distance <= 0));
        columns.nextEntry(at[0], at[1], at[2], hit);
        const first = Math.min(Infinity, ...entries.map(({ distance }) => distance));
        if (first === Infinity) expect(hit.heightMm).toBe(Infinity);
        else expect(hit.heightMm - at[2]).toBeCloseTo(first, 8);
        columns.nextBelow(at[0], at[1], at[2], hit);
        const next = Math.max(-Infinity, ...hits.map(({ distance }) => distance).filter((s) => s < 0));
        if (next === -Infinity) expect(hit.heightMm).toBe(-Infinity);
        else expect(hit.heightMm - at[2]).toBeCloseTo(next, 8);
        if (entries.length > 0) entered++;
        if (next > -Infinity) below++;
      }
      // The heap is neither missed nor all there is.
      expect(entered).toBeGreaterThan(150);
      expect(entered).toBeLessThan(2700);
      expect(below).toBeGreaterThan(150);
    });
  }
});

describe('NearestTris', () => {
  it('finds what the general tree finds, within any reach (seed 9)', () => {
    const random = seededRandom(9);
    const mesh = heap(random);
    const every = Uint32Array.from({ length: mesh.indices.length / 3 }, (_, t) => t);
    const own = new NearestTris(mesh.positions, mesh.indices, every);
    const general = new SurfaceTree(mesh);
    const hit = newNearestTri();
    const expected = newClosestPoint();
    for (let n = 0; n < 2000; n++) {
      const [x, y, z] = [60 * random() - 15, 60 * random() - 15, 60 * random() - 15];
      general.closestPoint(x, y, z, expected);
      expect(own.closestWithin(x, y, z, Infinity, hit)).toBe(true);
      expect(hit.distance).toBeCloseTo(expected.distance, 10);
      expect(Math.hypot(hit.point[0] - x, hit.point[1] - y, hit.point[2] - z)).toBeCloseTo(hit.distance, 10);
      expect(own.closestWithin(x, y, z, 0.99 * expected.distance, hit)).toBe(false);
      expect(own.closestWithin(x, y, z, 1.01 * expected.distance, hit)).toBe(true);
    }
  });
});
