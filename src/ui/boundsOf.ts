import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../jobs/protocol.ts';

export interface PictureBox {
  readonly min: Vec3;
  readonly max: Vec3;
}

const known = new WeakMap<SurfacePicture, PictureBox>();

/** Box of a picture's points, mm, kept as long as the picture lives. Empty picture: a box of zeros. Cost: one pass. */
export function boundsOf(picture: SurfacePicture): PictureBox {
  const kept = known.get(picture);
  if (kept) return kept;
  const p = picture.positions;
  const min: [number, number, number] = p.length > 0 ? [p[0], p[1], p[2]] : [0, 0, 0];
  const max: [number, number, number] = [...min];
  for (let i = 3; i < p.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const x = p[i + k];
      if (x < min[k]) min[k] = x;
      if (x > max[k]) max[k] = x;
    }
  }
  const box = { min, max };
  known.set(picture, box);
  return box;
}
