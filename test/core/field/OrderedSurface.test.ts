import { expect, test } from 'vitest';
import {
  CAP_SIDE,
  OPEN_SIDE,
  orderSurface,
  SIDES,
  TRI_STRIDE,
} from '../../../src/core/field/OrderedSurface.ts';
import { box, openHalfSphere, torus } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from '../parting/preparedFromMesh.ts';

test.each([
  ['torus', torus(20, 6, 60, 24)],
  ['half sphere, open', openHalfSphere(15, 20)],
] as const)(
  '%s: every triangle once, its corners in place, its neighbours those of the mesh',
  (_name, mesh) => {
    const { twins, isSurface } = preparedFromMesh(mesh, false);
    const { triCount, tris, positions, ids } = orderSurface(mesh, twins, isSurface);
    expect([...ids].sort((a, b) => a - b)).toEqual(Array.from({ length: isSurface.length }, (_, t) => t));
    for (let t = 0; t < triCount; t++) {
      for (let k = 0; k < 3; k++) {
        const corner = tris[t * TRI_STRIDE + k];
        const vert = 3 * mesh.indices[3 * ids[t] + k];
        expect([...positions.subarray(corner, corner + 3)]).toEqual([
          ...mesh.positions.subarray(vert, vert + 3),
        ]);
        const across = tris[t * TRI_STRIDE + SIDES + k];
        const twin = twins[3 * ids[t] + k];
        if (twin < 0) expect(across).toBe(OPEN_SIDE);
        else expect(3 * ids[across >> 2] + (across & 3)).toBe(twin);
      }
    }
  },
);

test('the face that stands on the board is left out, and said across the sides that meet it', () => {
  const mesh = box(4, 3, 2);
  const isBottom = (t: number): boolean =>
    [0, 1, 2].every((k) => mesh.positions[3 * mesh.indices[3 * t + k] + 2] === 0);
  const { twins, isSurface } = preparedFromMesh(mesh, true, isBottom);
  const surface = orderSurface(mesh, twins, isSurface);
  expect(surface.triCount).toBe(10);
  // Two faces of 4 x 2, two of 3 x 2, the top of 4 x 3.
  expect(surface.areaMm2).toBeCloseTo(2 * 8 + 2 * 6 + 12, 12);
  const caps = Array.from(surface.tris).filter((value) => value === CAP_SIDE);
  expect(caps).toHaveLength(4);
});

test('neighbours in space are neighbours in memory, whatever the order of the file', () => {
  const mesh = torus(20, 6, 60, 24);
  const shuffled = mesh.indices.slice();
  // A fixed shuffle: every triangle 1009 places on.
  const count = shuffled.length / 3;
  for (let t = 0; t < count; t++) {
    shuffled.set(mesh.indices.subarray(3 * t, 3 * t + 3), 3 * ((t * 1009) % count));
  }
  const { twins, isSurface } = preparedFromMesh({ positions: mesh.positions, indices: shuffled }, false);
  const { tris, positions } = orderSurface(
    { positions: mesh.positions, indices: shuffled },
    twins,
    isSurface,
  );
  let way = 0;
  for (let t = 1; t < count; t++) {
    const a = tris[t * TRI_STRIDE];
    const b = tris[(t - 1) * TRI_STRIDE];
    way += Math.hypot(...[0, 1, 2].map((k) => positions[a + k] - positions[b + k]));
  }
  // Without order two triangles lie about the tube's larger radius apart.
  expect(way / count).toBeLessThan(4);
});
