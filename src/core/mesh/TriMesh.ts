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
  let minX = Infinity;
  let minY = Infinity;
  let minZ = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  let maxZ = -Infinity;
  const p = mesh.positions;
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i];
    const y = p[i + 1];
    const z = p[i + 2];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
    if (z < minZ) minZ = z;
    if (z > maxZ) maxZ = z;
  }
  return { min: [minX, minY, minZ], max: [maxX, maxY, maxZ] };
}
