import { compactVerts } from './compactVerts.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh with vertices of exactly equal coordinates made one, and how many went. Minus zero equals zero; vertices that
 * are not finite stay apart, so that their faces can be dropped. Returns the mesh itself when there are none. O(n), open
 * addressing in typed arrays.
 */
export function weldExact(mesh: TriMesh): { mesh: TriMesh; welded: number } {
  const { positions } = mesh;
  const count = positions.length / 3;
  let size = 16;
  // At most half full, so that probing stays short.
  while (size < 2 * count) size *= 2;
  const slots = new Int32Array(size).fill(-1);
  const mask = size - 1;
  const word = new Float64Array(3);
  const bits = new Uint32Array(word.buffer);
  const to = new Uint32Array(count);
  let welded = 0;
  for (let v = 0; v < count; v++) {
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    word[0] = x + 0;
    word[1] = y + 0;
    word[2] = z + 0;
    let hash = Math.imul(bits[0] ^ Math.imul(bits[1], 0x9e3779b1), 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 15) ^ bits[2] ^ Math.imul(bits[3], 0xc2b2ae35), 0x27d4eb2f);
    hash = Math.imul(hash ^ (hash >>> 13) ^ bits[4] ^ Math.imul(bits[5], 0x165667b1), 0x9e3779b1);
    hash = (hash ^ (hash >>> 16)) & mask;
    to[v] = v;
    for (;;) {
      const other = slots[hash];
      if (other < 0) {
        slots[hash] = v;
        break;
      }
      if (positions[3 * other] === x && positions[3 * other + 1] === y && positions[3 * other + 2] === z) {
        to[v] = other;
        welded++;
        break;
      }
      hash = (hash + 1) & mask;
    }
  }
  if (welded === 0) return { mesh, welded };
  const indices = new Uint32Array(mesh.indices.length);
  for (let i = 0; i < indices.length; i++) indices[i] = to[mesh.indices[i]];
  return { mesh: compactVerts({ positions, indices }), welded };
}
