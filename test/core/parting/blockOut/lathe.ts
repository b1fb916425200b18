import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';

/**
 * A closed body turned about the z axis: `profile` runs r, z from the axis at the bottom to the axis at the top, both ends
 * on the axis; `sides` corners a ring.
 */
export function lathe(profile: readonly (readonly [number, number])[], sides: number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  const rings = profile.map(([r, z]) => {
    const first = positions.length / 3;
    const count = r === 0 ? 1 : sides;
    for (let n = 0; n < count; n++) {
      const u = (2 * Math.PI * n) / sides;
      positions.push(r * Math.cos(u), r * Math.sin(u), z);
    }
    return { first, count };
  });
  for (let k = 0; k + 1 < rings.length; k++) {
    const low = rings[k];
    const high = rings[k + 1];
    for (let n = 0; n < sides; n++) {
      const m = (n + 1) % sides;
      const a = low.first + (low.count === 1 ? 0 : n);
      const b = low.first + (low.count === 1 ? 0 : m);
      const c = high.first + (high.count === 1 ? 0 : m);
      const d = high.first + (high.count === 1 ? 0 : n);
      if (low.count > 1) indices.push(a, b, c);
      if (high.count > 1) indices.push(a, c, d);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
