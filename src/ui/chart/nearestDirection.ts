import type { Vec3 } from '../../core/mesh/TriMesh.ts';

/** Index of the direction (of n x 3 unit vectors) at the least angle to a pull; -1 when there is none. */
export function nearestDirection(directions: Float32Array, pull: Vec3): number {
  let nearest = -1;
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < directions.length; i += 3) {
    const cosine = pull[0] * directions[i] + pull[1] * directions[i + 1] + pull[2] * directions[i + 2];
    if (cosine > best) {
      best = cosine;
      nearest = i / 3;
    }
  }
  return nearest;
}
