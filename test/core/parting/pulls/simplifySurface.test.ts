import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import { prepareScan } from '../../../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';
import { simplifySurface } from '../../../../src/core/parting/pulls/simplifySurface.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import { openMesh } from '../../../../src/io/openMesh.ts';
import { expectValidMesh, volumeAlongX } from '../../../expectValidMesh.ts';
import { octasphere, openHalfSphere, torus } from '../../../fixtures/shapes.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

/** Vertices less edges plus faces, counted with plain sets: 2 for a sphere, 0 for a torus, 1 for a disc. */
function eulerNumber({ positions, indices }: TriMesh): number {
  const edges = new Set<string>();
  for (let h = 0; h < indices.length; h++) {
    const a = indices[h];
    const b = indices[h % 3 === 2 ? h - 2 : h + 1];
    edges.add(a < b ? `${a},${b}` : `${b},${a}`);
  }
  return positions.length / 3 - edges.size + indices.length / 3;
}

async function scanOf(name: string) {
  const bytes = readFileSync(new URL(`../../../fixtures/${name}`, import.meta.url));
  const { mesh } = await openMesh(new Uint8Array(bytes), name);
  return prepareScan(mesh, newPlan(name).scan, [], new Checkpoint());
}

describe('simplifySurface', () => {
  it.each([
    ['sphere', octasphere(50, 60), false, 2],
    ['torus', torus(50, 8, 240, 60), false, 0],
    ['thin ring', torus(50, 0.6, 900, 24), false, 0],
    ['half sphere on the board', openHalfSphere(50, 80), true, 1],
  ] as const)('%s: fewer triangles, still a manifold of the same kind', async (_, mesh, onBoard, euler) => {
    const full = new SurfaceContext(preparedFromMesh(mesh, onBoard));
    for (const target of [4000, 800, 200]) {
      const simple = await simplifySurface(full, target);
      expectValidMesh(simple.scan.mesh);
      expect(eulerNumber(simple.scan.mesh)).toBe(euler);
      expect(simple.scan.mesh.indices.length / 3).toBeLessThanOrEqual(1.1 * target);
      const { positions } = simple.scan.mesh;
      const moved = [...simple.sourceVert].filter((from, v) =>
        [0, 1, 2].some((k) => positions[3 * v + k] !== mesh.positions[3 * from + k]),
      );
      expect(moved).toEqual([]);
    }
  });

  it.each(['demosthenes.ply', 'goblet.stl'])('%s: a manifold with its rim on the board', async (name) => {
    const scan = await scanOf(name);
    const full = new SurfaceContext(scan);
    for (const target of [6000, 1500, 300]) {
      const simple = await simplifySurface(full, target);
      expectValidMesh(simple.scan.mesh);
      const surface = new SurfaceContext(simple.scan);
      expect(surface.rim.length).toBeGreaterThan(2);
      const offBoard = [...surface.rim].filter((h) => surface.positions[3 * surface.indices[h] + 2] !== 0);
      expect(offBoard).toEqual([]);
      expect(surface.holeOfVertex.size).toBe(0);
    }
  });

  it('keeps the volume of a sphere to the sag of its new faces', async () => {
    const mesh = octasphere(50, 100);
    const simple = await simplifySurface(new SurfaceContext(preparedFromMesh(mesh, false)), 4000);
    // A face of area a stands about a / (sqrt 3 pi R) inside the sphere at worst; twice the mean face's, of V = A R / 3.
    const area = 4 * Math.PI * 50 ** 2;
    const sag = area / 4000 / 50;
    const lost = volumeAlongX(mesh) - volumeAlongX(simple.scan.mesh);
    expect(lost).toBeGreaterThan(0);
    expect(lost).toBeLessThan(area * sag);
  });

  it('returns a small surface as it is, without its base cap', async () => {
    const scan = await scanOf('goblet.stl');
    const full = new SurfaceContext(scan);
    const simple = await simplifySurface(full, 1_000_000);
    const count = scan.isSurface.reduce((sum, is) => sum + is, 0);
    expect(simple.scan.mesh.indices.length / 3).toBe(count);
    expect(simple.scan.isSurface.every((is) => is === 1)).toBe(true);
    expectValidMesh(simple.scan.mesh);
  });
});
