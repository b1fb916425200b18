import { compactVerts } from './compactVerts.ts';
import type { TriMesh } from './TriMesh.ts';

/** Bits a vertex in the sieve: one vertex in sixteen is looked at in vain, and a million vertices' sieve stays in the cache. */
const SIEVE_BITS = 16;

/**
 * The mesh with vertices of exactly equal coordinates made one, and how many went. Minus zero equals zero; vertices that
 * are not finite stay apart, so that their faces can be dropped. Returns the mesh itself when there are none. O(n).
 */
export function weldExact(mesh: TriMesh): { mesh: TriMesh; welded: number } {
  const { positions } = mesh;
  const suspects = findSuspects(positions);
  const places = 2 ** Math.ceil(Math.log2(Math.max(16, 2 * suspects.length)));
  // Open addressing, at most half full, so that probing stays short.
  const slots = new Int32Array(places).fill(-1);
  const mask = places - 1;
  const hash = new PlaceHash();
  const twinsTo = new Uint32Array(suspects.length);
  let welded = 0;
  for (let n = 0; n < suspects.length; n++) {
    const v = suspects[n];
    const x = positions[3 * v];
    const y = positions[3 * v + 1];
    const z = positions[3 * v + 2];
    let at = hash.of(x, y, z) & mask;
    twinsTo[n] = v;
    for (;;) {
      const other = slots[at];
      if (other < 0) {
        slots[at] = v;
        break;
      }
      if (positions[3 * other] === x && positions[3 * other + 1] === y && positions[3 * other + 2] === z) {
        twinsTo[n] = other;
        welded++;
        break;
      }
      at = (at + 1) & mask;
    }
  }
  if (welded === 0) return { mesh, welded };
  const to = new Uint32Array(positions.length / 3);
  for (let v = 0; v < to.length; v++) to[v] = v;
  for (let n = 0; n < suspects.length; n++) to[suspects[n]] = twinsTo[n];
  const indices = new Uint32Array(mesh.indices.length);
  for (let i = 0; i < indices.length; i++) indices[i] = to[mesh.indices[i]];
  return { mesh: compactVerts({ positions, indices }), welded };
}

/**
 * The vertices, in order, that may have another at the same place: those whose place in a sieve of bits is taken twice. Equal
 * vertices have equal hashes, so none of them is missed; most files have none, and need no table.
 */
function findSuspects(positions: Float64Array): Uint32Array {
  const count = positions.length / 3;
  const bits = 2 ** Math.ceil(Math.log2(Math.max(32, SIEVE_BITS * count)));
  const mask = bits - 1;
  const once = new Uint32Array(bits >>> 5);
  const twice = new Uint32Array(bits >>> 5);
  const hash = new PlaceHash();
  const places = new Uint32Array(count);
  for (let v = 0; v < count; v++) {
    const place = hash.of(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]) & mask;
    places[v] = place;
    const word = place >>> 5;
    const bit = 1 << (place & 31);
    if ((once[word] & bit) !== 0) twice[word] |= bit;
    else once[word] |= bit;
  }
  const suspects = new Uint32Array(count);
  let found = 0;
  for (let v = 0; v < count; v++) {
    if ((twice[places[v] >>> 5] & (1 << (places[v] & 31))) !== 0) suspects[found++] = v;
  }
  return suspects.subarray(0, found);
}

/** A hash of 32 bits of a point's coordinates; -0 as 0. */
class PlaceHash {
  private readonly coordinates = new Float64Array(3);
  private readonly words = new Uint32Array(this.coordinates.buffer);

  of(x: number, y: number, z: number): number {
    const { coordinates, words } = this;
    coordinates[0] = x + 0;
    coordinates[1] = y + 0;
    coordinates[2] = z + 0;
    let hash = Math.imul(words[0] ^ Math.imul(words[1], 0x9e3779b1), 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 15) ^ words[2] ^ Math.imul(words[3], 0xc2b2ae35), 0x27d4eb2f);
    hash = Math.imul(hash ^ (hash >>> 13) ^ words[4] ^ Math.imul(words[5], 0x165667b1), 0x9e3779b1);
    return hash ^ (hash >>> 16);
  }
}
