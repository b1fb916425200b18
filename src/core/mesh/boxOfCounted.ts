import type { Box, TriMesh } from './TriMesh.ts';

/** The box round the triangles whose `isCounted` is not 0, in the mesh's unit; as an empty mesh has it when there are none. O(n). */
export function boxOfCounted({ positions: p, indices }: TriMesh, isCounted: Uint8Array): Box {
  // Marking first costs one byte a corner to look at, where the corners' places cost 24.
  const isUsed = new Uint8Array(p.length / 3);
  for (let t = 0; t < isCounted.length; t++) {
    if (isCounted[t] === 0) continue;
    isUsed[indices[3 * t]] = 1;
    isUsed[indices[3 * t + 1]] = 1;
    isUsed[indices[3 * t + 2]] = 1;
  }
  let minX = Infinity;
  let minY = Infinity;
  let minZ = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  let maxZ = -Infinity;
  for (let v = 0; v < isUsed.length; v++) {
    if (isUsed[v] === 0) continue;
    const x = p[3 * v];
    const y = p[3 * v + 1];
    const z = p[3 * v + 2];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
    if (z < minZ) minZ = z;
    if (z > maxZ) maxZ = z;
  }
  return { min: [minX, minY, minZ], max: [maxX, maxY, maxZ] };
}
