import type { Vec3 } from '../../mesh/TriMesh.ts';

/** How a rigid body moves at an instant: every point x by turn x (x - origin) + shift. */
export interface Twist {
  /** Angular velocity, rad. */
  readonly turn: Vec3;
  /** Velocity of the point `originMm`, mm. */
  readonly shiftMm: Vec3;
  readonly originMm: Vec3;
}

/** Contacts of a piece as vectors: the inner product with a twist's six numbers is the speed at which the contact opens. */
export interface ContactVectors {
  /**
   * n x 6: (x - origin) x n / scale, then n. A twist in these units is (turn * scaleMm, shiftMm); turning and shifting then
   * weigh the same: a turn by one unit moves a point at the scale's distance by one mm.
   */
  readonly vectors: Float64Array;
  readonly originMm: Vec3;
  /** Root mean square distance of the contacts from the origin, their middle. */
  readonly scaleMm: number;
}

/**
 * The contact vectors of faces: `middles` and unit `normals` (n x 3, outward from the rubber), the n that `isOwn` tells.
 * The shell over a face opens when it moves along the face's normal. O(n).
 */
export function contactVectors(
  middles: Float64Array,
  normals: Float64Array,
  areaMm2: Float64Array,
  isOwn: (face: number) => boolean,
): ContactVectors {
  const own: number[] = [];
  let weight = 0;
  const sum = [0, 0, 0];
  for (let t = 0; t < areaMm2.length; t++) {
    if (!(areaMm2[t] > 0) || !isOwn(t)) continue;
    own.push(t);
    weight += areaMm2[t];
    for (let k = 0; k < 3; k++) sum[k] += areaMm2[t] * middles[3 * t + k];
  }
  const [ox, oy, oz] = weight > 0 ? sum.map((s) => s / weight) : sum;
  let square = 0;
  for (const t of own) {
    square +=
      areaMm2[t] *
      ((middles[3 * t] - ox) ** 2 + (middles[3 * t + 1] - oy) ** 2 + (middles[3 * t + 2] - oz) ** 2);
  }
  const scaleMm = square > 0 ? Math.sqrt(square / weight) : 1;
  const vectors = new Float64Array(6 * own.length);
  for (let i = 0; i < own.length; i++) {
    const t = 3 * own[i];
    const x = (middles[t] - ox) / scaleMm;
    const y = (middles[t + 1] - oy) / scaleMm;
    const z = (middles[t + 2] - oz) / scaleMm;
    const nx = normals[t];
    const ny = normals[t + 1];
    const nz = normals[t + 2];
    vectors[6 * i] = y * nz - z * ny;
    vectors[6 * i + 1] = z * nx - x * nz;
    vectors[6 * i + 2] = x * ny - y * nx;
    vectors[6 * i + 3] = nx;
    vectors[6 * i + 4] = ny;
    vectors[6 * i + 5] = nz;
  }
  return { vectors, originMm: [ox, oy, oz], scaleMm };
}

/** Six numbers in the contacts' units as a twist. */
export function asTwist(six: ArrayLike<number>, { originMm, scaleMm }: ContactVectors): Twist {
  return {
    turn: [six[0] / scaleMm, six[1] / scaleMm, six[2] / scaleMm],
    shiftMm: [six[3], six[4], six[5]],
    originMm,
  };
}
