/** At most half full, so that linear probing stays at about 1.5 looks a find. */
const MAX_FILL = 0.5;
/** Least room, so that tiny files need no special case. */
const MIN_VERTS = 64;
/** The bits of -0 as a float32. */
const MINUS_ZERO = 0x80000000 | 0;

/**
 * As VertIndex, for points of three float32 numbers given by their bits: the number of each point, in the order in which they are
 * first met. Points are equal when all bits are, with -0 counted as 0. Half the memory to look through, which is what a find
 * costs in a large file.
 *
 * Memory: 12 bytes a vertex and 8 to 16 for the table, times up to 1.5 and 2 while either grows. Cost: O(1) a find.
 */
export class CornerIndex {
  /** x y z of each point, as bits. */
  private bits: Int32Array;
  /** Vertex number plus one; 0 is an empty place. */
  private table: Int32Array;
  private count = 0;

  /** `expectedVerts` sizes the first tables; more verts make them grow. */
  constructor(expectedVerts: number) {
    const verts = Math.max(MIN_VERTS, Math.ceil(expectedVerts));
    this.bits = new Int32Array(3 * verts);
    let places = 2 * MIN_VERTS;
    while (places * MAX_FILL < verts) places *= 2;
    this.table = new Int32Array(places);
  }

  get vertCount(): number {
    return this.count;
  }

  /** The number of the point whose coordinates have these bits, which is added when it is new. */
  findOrAdd(xBits: number, yBits: number, zBits: number): number {
    const x = xBits === MINUS_ZERO ? 0 : xBits;
    const y = yBits === MINUS_ZERO ? 0 : yBits;
    const z = zBits === MINUS_ZERO ? 0 : zBits;
    const { table, bits } = this;
    const mask = table.length - 1;
    let place = hashOf(x, y, z) & mask;
    for (let held = table[place]; held !== 0; held = table[place]) {
      const at = 3 * (held - 1);
      if (bits[at] === x && bits[at + 1] === y && bits[at + 2] === z) return held - 1;
      place = (place + 1) & mask;
    }
    const vert = this.count;
    if (3 * vert === bits.length) this.growBits();
    this.bits[3 * vert] = x;
    this.bits[3 * vert + 1] = y;
    this.bits[3 * vert + 2] = z;
    table[place] = vert + 1;
    this.count = vert + 1;
    if (this.count > table.length * MAX_FILL) this.growTable();
    return vert;
  }

  /** The points in the order of their numbers, vertCount x 3. Frees the table; the index must not be used afterwards. */
  takePositions(): Float64Array {
    const numbers = new Float32Array(this.bits.buffer, 0, 3 * this.count);
    const positions = new Float64Array(numbers);
    this.table = new Int32Array(0);
    this.bits = new Int32Array(0);
    return positions;
  }

  private growBits(): void {
    const grown = new Int32Array(3 * Math.ceil(1.5 * (this.bits.length / 3)));
    grown.set(this.bits);
    this.bits = grown;
  }

  private growTable(): void {
    const table = new Int32Array(2 * this.table.length);
    const mask = table.length - 1;
    const { bits } = this;
    for (let vert = 0; vert < this.count; vert++) {
      let place = hashOf(bits[3 * vert], bits[3 * vert + 1], bits[3 * vert + 2]) & mask;
      while (table[place] !== 0) place = (place + 1) & mask;
      table[place] = vert + 1;
    }
    this.table = table;
  }
}

/** Mixes the three words as MurmurHash3 does (A. Appleby, public domain; constants from memory). */
function hashOf(x: number, y: number, z: number): number {
  let h = mix(mix(mix(0, x), y), z);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

function mix(h: number, word: number): number {
  const k = Math.imul(word, 0xcc9e2d51);
  const mixed = h ^ Math.imul((k << 15) | (k >>> 17), 0x1b873593);
  return (Math.imul((mixed << 13) | (mixed >>> 19), 5) + 0xe6546b64) | 0;
}
