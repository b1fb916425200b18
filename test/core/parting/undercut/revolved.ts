import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';

/**
 * A closed solid of revolution about the z axis.
 * @param profile r, z pairs from the lowest point on the axis to the highest, outside to the right; inner ones off the axis.
 */
export function revolved(profile: readonly (readonly [number, number])[], sides: number): TriMesh {
  const rings = profile.slice(1, -1);
  const positions: number[] = [];
  for (const [r, z] of rings) {
    for (let i = 0; i < sides; i++) {
      const angle = (2 * Math.PI * i) / sides;
      positions.push(r * Math.cos(angle), r * Math.sin(angle), z);
    }
  }
  const low = positions.length / 3;
  positions.push(0, 0, profile[0][1]);
  positions.push(0, 0, profile[profile.length - 1][1]);
  const indices: number[] = [];
  const at = (ring: number, i: number): number => ring * sides + (i % sides);
  for (let i = 0; i < sides; i++) {
    indices.push(low, at(0, i + 1), at(0, i));
    indices.push(low + 1, at(rings.length - 1, i), at(rings.length - 1, i + 1));
    for (let ring = 0; ring + 1 < rings.length; ring++) {
      indices.push(at(ring, i), at(ring, i + 1), at(ring + 1, i + 1));
      indices.push(at(ring, i), at(ring + 1, i + 1), at(ring + 1, i));
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** A sphere of radius R about the origin with rings at the given latitudes, degrees, and about every `stepDeg` between them. */
export function ringedSphere(
  radius: number,
  latitudesDeg: readonly number[],
  stepDeg: number,
  sides: number,
): TriMesh {
  const marks = [-90, ...[...latitudesDeg].sort((a, b) => a - b), 90];
  const profile: [number, number][] = [[0, -radius]];
  for (let m = 0; m + 1 < marks.length; m++) {
    const steps = Math.max(1, Math.ceil((marks[m + 1] - marks[m]) / stepDeg));
    for (let s = 1; s <= steps; s++) {
      const latitude = ((marks[m] + ((marks[m + 1] - marks[m]) * s) / steps) * Math.PI) / 180;
      profile.push([radius * Math.cos(latitude), radius * Math.sin(latitude)]);
    }
  }
  profile[profile.length - 1] = [0, radius];
  return revolved(profile, sides);
}
