import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';

/** Body of revolution about the z axis, open underneath: `profile` radius and height from the board (z = 0) upward, closed by a fan at the last height. */
export function latheBody(profile: readonly (readonly [number, number])[], sides: number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  for (const [radius, height] of profile) {
    for (let i = 0; i < sides; i++) {
      const u = (2 * Math.PI * i) / sides;
      positions.push(radius * Math.cos(u), radius * Math.sin(u), height);
    }
  }
  for (let ring = 0; ring + 1 < profile.length; ring++) {
    for (let i = 0; i < sides; i++) {
      const a = ring * sides + i;
      const b = ring * sides + ((i + 1) % sides);
      indices.push(a, b, b + sides, a, b + sides, a + sides);
    }
  }
  const top = (profile.length - 1) * sides;
  positions.push(0, 0, profile[profile.length - 1][1]);
  for (let i = 0; i < sides; i++) indices.push(top + i, top + ((i + 1) % sides), positions.length / 3 - 1);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
