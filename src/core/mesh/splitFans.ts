import { previousInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh with a vertex of its own for every fan of faces, and how many were added, where (n x 3): where two sheets touch in a point or
 * an edge, they part. The mesh itself when every vertex has one fan. O(n).
 */
export function splitFans(
  mesh: TriMesh,
  twins: Int32Array,
): { mesh: TriMesh; added: number; addedAt: Float64Array } {
  const vertCount = mesh.positions.length / 3;
  const isUsed = new Uint8Array(vertCount);
  const isSeen = new Uint8Array(twins.length);
  // Copied when the first fan gets a vertex of its own, which in most surfaces none does.
  let indices: Uint32Array | null = null;
  const copies: number[] = [];
  for (let corner = 0; corner < twins.length; corner++) {
    if (isSeen[corner] !== 0) continue;
    const v = mesh.indices[corner];
    const isNew = isUsed[v] !== 0;
    const own = isNew ? vertCount + copies.length : v;
    if (isNew) {
      copies.push(v);
      indices ??= mesh.indices.slice();
    }
    isUsed[v] = 1;
    // One way round until the fan closes or ends, then from the start the other way.
    let c = corner;
    while (c >= 0 && isSeen[c] === 0) {
      isSeen[c] = 1;
      if (isNew && indices !== null) indices[c] = own;
      c = twins[previousInTri(c)];
    }
    // All the way round: nothing is left the other way.
    if (c === corner) continue;
    c = twins[corner] < 0 ? -1 : nextCorner(twins, corner);
    while (c >= 0 && isSeen[c] === 0) {
      isSeen[c] = 1;
      if (isNew && indices !== null) indices[c] = own;
      c = twins[c] < 0 ? -1 : nextCorner(twins, c);
    }
  }
  if (indices === null) return { mesh, added: 0, addedAt: new Float64Array(0) };
  const positions = new Float64Array(mesh.positions.length + 3 * copies.length);
  positions.set(mesh.positions);
  for (let i = 0; i < copies.length; i++) {
    for (let k = 0; k < 3; k++) positions[3 * (vertCount + i) + k] = mesh.positions[3 * copies[i] + k];
  }
  return {
    mesh: { positions, indices },
    added: copies.length,
    addedAt: positions.subarray(mesh.positions.length),
  };
}

/** The next corner of the same fan, across the half-edge that leaves from `corner`. */
function nextCorner(twins: Int32Array, corner: number): number {
  const twin = twins[corner];
  return twin % 3 === 2 ? twin - 2 : twin + 1;
}
