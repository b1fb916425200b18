import type { Vec3 } from '../../../core/mesh/TriMesh.ts';
import type { SectionPicture } from '../../../jobs/protocol.ts';

/** A place on the face of a cut, mm along its axes. */
export type CutPlace = readonly [u: number, v: number];

/** Where a ray meets the plane of the cut; null when it runs along it or away. */
export function meetCut(
  { plane, origin, uAxis, vAxis }: Pick<SectionPicture, 'plane' | 'origin' | 'uAxis' | 'vAxis'>,
  ray: { readonly origin: Vec3; readonly direction: Vec3 },
): CutPlace | null {
  const along = dot(plane.normal, ray.direction);
  if (Math.abs(along) < 1e-9) return null;
  const mm = (plane.offsetMm - dot(plane.normal, ray.origin)) / along;
  if (mm < 0) return null;
  const off: Vec3 = [0, 1, 2].map(
    (k) => ray.origin[k] + mm * ray.direction[k] - origin[k],
  ) as unknown as Vec3;
  return [dot(off, uAxis), dot(off, vAxis)];
}

/** The place in the board's frame, mm. */
export function placeOnBoard(
  { origin, uAxis, vAxis }: Pick<SectionPicture, 'origin' | 'uAxis' | 'vAxis'>,
  [u, v]: CutPlace,
): Vec3 {
  return [0, 1, 2].map((k) => origin[k] + u * uAxis[k] + v * vAxis[k]) as unknown as Vec3;
}

/** The coat (and piece) that a place of the cut lies in, coat -1 for the rubber; null: none. */
export function coatAt({ areas }: SectionPicture, place: CutPlace): SectionPicture['areas'][number] | null {
  return areas.find(({ rings }) => isInside(rings, place)) ?? null;
}

/** Even-odd: outlines and holes alike. Rings are closed by themselves. Source: crossing count, well known. */
export function isInside(rings: readonly Float32Array[], [u, v]: CutPlace): boolean {
  let isIn = false;
  for (const ring of rings) {
    const n = ring.length / 2;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const vi = ring[2 * i + 1];
      const vj = ring[2 * j + 1];
      if (vi > v === vj > v) continue;
      const ui = ring[2 * i];
      if (u < ui + ((v - vi) / (vj - vi)) * (ring[2 * j] - ui)) isIn = !isIn;
    }
  }
  return isIn;
}

function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
