/**
 * A triangle mesh.
 *
 * `positions`: vertCount x 3, x y z, Float64, millimetres once a unit is applied.
 * `indices`: triCount x 3, Uint32, counter-clockwise seen from outside.
 * Both are treated as read-only by everyone who did not make them.
 */
export interface TriMesh {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
}

export const vertCount = (mesh: TriMesh): number => mesh.positions.length / 3;
export const triCount = (mesh: TriMesh): number => mesh.indices.length / 3;

export type Vec3 = readonly [number, number, number];

/** Axis-aligned box, millimetres. Empty mesh: min +Infinity, max -Infinity. */
export interface Box {
  readonly min: Vec3;
  readonly max: Vec3;
}

export function boundingBox(mesh: TriMesh): Box {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  const p = mesh.positions;
  for (let i = 0; i < p.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const x = p[i + k];
      if (x < min[k]) min[k] = x;
      if (x > max[k]) max[k] = x;
    }
  }
  return { min, max };
}
