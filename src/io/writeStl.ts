import type { TriMesh } from '../core/mesh/TriMesh.ts';
import { STL_BODY_AT, STL_CORNERS_AT, STL_COUNT_AT, STL_TRI_BYTES } from './stlLayout.ts';

/**
 * The mesh as binary STL, coordinates rounded to float32, normals computed (0 0 0 for a triangle without area).
 * `title` is cut to 80 ASCII characters; by the format's custom it should not begin with "solid".
 */
export function writeStl(mesh: TriMesh, title = ''): Uint8Array<ArrayBuffer> {
  const { positions, indices } = mesh;
  const triCount = indices.length / 3;
  const bytes = new Uint8Array(STL_BODY_AT + STL_TRI_BYTES * triCount);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < Math.min(title.length, STL_COUNT_AT); i++) bytes[i] = title.charCodeAt(i) & 0x7f;
  view.setUint32(STL_COUNT_AT, triCount, true);
  for (let tri = 0; tri < triCount; tri++) {
    const at = STL_BODY_AT + STL_TRI_BYTES * tri;
    const a = 3 * indices[3 * tri];
    const b = 3 * indices[3 * tri + 1];
    const c = 3 * indices[3 * tri + 2];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length = Math.hypot(nx, ny, nz) || 1;
    view.setFloat32(at, nx / length, true);
    view.setFloat32(at + 4, ny / length, true);
    view.setFloat32(at + 8, nz / length, true);
    for (let corner = 0; corner < 3; corner++) {
      const vert = 3 * indices[3 * tri + corner];
      const to = at + STL_CORNERS_AT + 12 * corner;
      for (let k = 0; k < 3; k++) view.setFloat32(to + 4 * k, positions[vert + k], true);
    }
  }
  return bytes;
}
