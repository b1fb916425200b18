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
    let sumOff = 0;
    for (const region of [0, 1]) {
      const part = takeRegion({ ...mesh, cutTriRegion }, region);
      const { depthMm: depths } = drawUndercut(part, locked);
      const { positions } = part.picture;
      expect(depths).toHaveLength(positions.length / 3);
      for (let v = 0; v < depths.length; v++) {
        const z = positions[3 * v + 2];
        const wanted = z <= 1e-6 ? depthMm(positions[3 * v], positions[3 * v + 1]) : 0;
        // Evened out twice over sides of at most sqrt(6) R / 16 = 4.6 mm: where the distance from the axis bends most, at the
        // pole, its mean over a ring of radius h is h, so that each round may take off that much.
        const boundMm = z > -1e-6 ? 1e-4 : (2 * Math.sqrt(6) * RADIUS_MM) / 16;
        expect(Math.abs(depths[v] - wanted)).toBeLessThan(boundMm);
        if (wanted > 1) sumOff += Math.abs(depths[v] - wanted);
        if (wanted > 1) seen++;
      }
    }
    expect(seen).toBeGreaterThan(100);
    // Away from the pole the distance from the axis is all but even: the mean is off by far less.
    expect(sumOff / seen).toBeLessThan(0.25);
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

  it('evens out a step of the map inside what locks, and leaves its border', () => {
    // A fan round vertex 0, whose depth stands out by 8 mm among neighbours of 4.
    const around = 6;
    const positions = [0, 0, 0];
    const indices: number[] = [];
    for (let i = 0; i < around; i++) {
      const angle = (2 * Math.PI * i) / around;
      positions.push(Math.cos(angle), Math.sin(angle), 0);
      indices.push(0, 1 + i, 1 + ((i + 1) % around));
    }
    // One free triangle beyond the fan makes vertices 1 and 2 border.
    positions.push(2, 1, 0);
    indices.push(2, 1, 7);
    const kinds = Uint8Array.from([...new Array(around).fill(1), 0]);
    const depths = indices.map((v, c) => (kinds[(c / 3) | 0] === 0 ? 0 : v === 0 ? 12 : 4));
    const part = takeRegion(
      {
        positions: Float64Array.from(positions),
        indices: Uint32Array.from(indices),
        cutTriRegion: new Int32Array(kinds.length),
      },
      0,
    );
    const drawn = drawUndercut(part, { cornerDepthMm: Float32Array.from(depths), triKind: kinds });
    // Twice the mean of itself and twelve times a neighbour of 4.
    const once = (12 + 12 * 4) / 13;
    expect(drawn.depthMm[0]).toBeCloseTo((once + 12 * 4) / 13, 5);
    expect([...drawn.depthMm.subarray(1)]).toEqual([4, 4, 4, 4, 4, 4, 0]);
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
