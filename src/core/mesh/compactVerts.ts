import type { TriMesh } from './TriMesh.ts';

/** The mesh without vertices that no triangle uses; the order of the others is kept. The mesh itself when all are used. */
export function compactVerts(mesh: TriMesh): TriMesh {
  const count = mesh.positions.length / 3;
  const isUsed = new Uint8Array(count);
  for (let i = 0; i < mesh.indices.length; i++) isUsed[mesh.indices[i]] = 1;
  let used = 0;
  for (let v = 0; v < count; v++) used += isUsed[v];
  if (used === count) return mesh;
  const to = new Int32Array(count).fill(-1);
  used = 0;
  for (let v = 0; v < count; v++) if (isUsed[v] !== 0) to[v] = used++;
  const positions = new Float64Array(3 * used);
  for (let v = 0; v < count; v++) {
    if (to[v] < 0) continue;
    for (let k = 0; k < 3; k++) positions[3 * to[v] + k] = mesh.positions[3 * v + k];
  }
  const indices = new Uint32Array(mesh.indices.length);
  for (let i = 0; i < indices.length; i++) indices[i] = to[mesh.indices[i]];
  return { positions, indices };
}
