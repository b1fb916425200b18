import { expect, it } from 'vitest';
import { buildTwins } from '../../../src/core/mesh/buildTwins.ts';
import { measureRoughness } from '../../../src/core/mesh/measureRoughness.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { addNoise } from '../../fixtures/dirty/shapeDefects.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, capsule, cylinder, octasphere, openHalfSphere, torus } from '../../fixtures/shapes.ts';

const roughness = (mesh: TriMesh) => measureRoughness(mesh, buildTwins(mesh.indices).twins);

it.each([
  [24, 0.2],
  [48, 0.05],
  [48, 0.2],
  [48, 0.4],
  [96, 0.1],
])('half ball of 30 mm in %d steps: noise of %d mm is measured to a tenth', (steps, sigmaMm) => {
  const { sigmaMm: found } = roughness(addNoise(sigmaMm)(openHalfSphere(30, steps), seededRandom(1)).mesh);
  expect(Math.abs(found / sigmaMm - 1)).toBeLessThan(0.1);
});

it('on pure noise the steps of neighbours have the correlation worked out: -5/18 over 7/6, for six neighbours', () => {
  // A flat sheet, each of its inner vertices in six faces.
  const n = 60;
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) positions.push(i + j / 2, (j * Math.sqrt(3)) / 2, 0);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const a = i * (n + 1) + j;
      indices.push(a, a + n + 1, a + 1, a + n + 1, a + n + 2, a + 1);
    }
  }
  const flat = { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
  const { likeness, sigmaMm } = roughness(addNoise(0.01)(flat, seededRandom(2)).mesh);
  // 3,500 vertices: chance leaves some 2 in a hundred.
  expect(Math.abs(likeness + 5 / 18 / (7 / 6))).toBeLessThan(0.03);
  expect(Math.abs(sigmaMm / 0.01 - 1)).toBeLessThan(0.05);
});

it('shapes are not rough, however coarse, sharp or curved', () => {
  for (const shape of [
    octasphere(30, 3),
    torus(30, 10, 48, 20),
    box(10, 20, 30),
    capsule(8, 20, 6),
    cylinder(10, 30, 24),
    openHalfSphere(20, 12),
  ]) {
    expect(roughness(shape).sigmaMm).toBe(0);
  }
});
