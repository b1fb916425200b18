import { describe, expect, it } from 'vitest';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { drawUndercut, type LockedTriangles } from '../../src/jobs/drawUndercut.ts';
import { takeRegion } from '../../src/jobs/takeRegion.ts';
import { octasphere } from '../fixtures/shapes.ts';

const RADIUS_MM = 30;

/** The sphere's lower half faces away from an upward pull; it locks by R minus the distance from the axis (elementary). */
function lockedSphere({ positions, indices }: TriMesh): LockedTriangles {
  const tris = indices.length / 3;
  const cornerDepthMm = new Float32Array(indices.length);
  const triKind = new Uint8Array(tris);
  for (let t = 0; t < tris; t++) {
    const corners = [0, 1, 2].map((k) => 3 * indices[3 * t + k]);
    if (corners.reduce((sum, c) => sum + positions[c + 2], 0) >= 0) continue;
    triKind[t] = 1;
    corners.forEach((c, k) => {
      cornerDepthMm[3 * t + k] = depthMm(positions[c], positions[c + 1]);
    });
  }
  return { cornerDepthMm, triKind };
}

const depthMm = (x: number, y: number) => RADIUS_MM - Math.hypot(x, y);

describe('drawUndercut', () => {
  const mesh = octasphere(RADIUS_MM, 16);
  const tris = mesh.indices.length / 3;
  const cutTriRegion = Int32Array.from({ length: tris }, (_, t) => {
    const x = [0, 1, 2].reduce((sum, k) => sum + mesh.positions[3 * mesh.indices[3 * t + k]], 0);
    return x < 0 ? 0 : 1;
  });
  const locked = lockedSphere(mesh);

  it('gives every vertex of the lower half its depth, on both pieces, and the upper half none', () => {
    let seen = 0;
    for (const region of [0, 1]) {
      const part = takeRegion({ ...mesh, cutTriRegion }, region);
      const { depthMm: depths } = drawUndercut(part, locked);
      const { positions } = part.picture;
      expect(depths).toHaveLength(positions.length / 3);
      for (let v = 0; v < depths.length; v++) {
        const z = positions[3 * v + 2];
        const wanted = z <= 1e-6 ? depthMm(positions[3 * v], positions[3 * v + 1]) : 0;
        expect(Math.abs(depths[v] - wanted)).toBeLessThan(1e-4);
        if (wanted > 1) seen++;
      }
    }
    expect(seen).toBeGreaterThan(100);
  });

  it('keeps triangles, corners and kinds of each piece in the order of the cut mesh', () => {
    const parts = [0, 1].map((region) => takeRegion({ ...mesh, cutTriRegion }, region));
    expect(parts[0].tris.length + parts[1].tris.length).toBe(tris);
    for (const part of parts) {
      const { kind } = drawUndercut(part, locked);
      part.tris.forEach((t, i) => {
        expect(kind[i]).toBe(locked.triKind[t]);
        for (let k = 0; k < 3; k++) {
          const from = 3 * mesh.indices[3 * t + k];
          const to = 3 * part.picture.indices[3 * i + k];
          for (let c = 0; c < 3; c++) {
            expect(part.picture.positions[to + c]).toBe(Math.fround(mesh.positions[from + c]));
          }
        }
      });
    }
  });

  it('a free triangle beside a locked one takes nothing from the corners they share', () => {
    const part = takeRegion(
      {
        positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0),
        indices: Uint32Array.of(0, 1, 2, 1, 3, 2),
        cutTriRegion: Int32Array.of(0, 0),
      },
      0,
    );
    const { depthMm: depths, kind } = drawUndercut(part, {
      cornerDepthMm: Float32Array.of(3, 4, 5, 0, 0, 0),
      triKind: Uint8Array.of(2, 0),
    });
    expect([...depths]).toEqual([3, 4, 5, 0]);
    expect([...kind]).toEqual([2, 0]);
  });
});
