import type { TriMesh } from '../mesh/TriMesh.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';

/** Triangles in a tile at most: few enough that lines cut up little, many enough that tiles are few. Own measurement. */
const TILE_TRIS = 256;

/** Numbers of a tile's sums, and where they stand. */
export const TILE_SUMS = 7;
export const TILE_SUM = {
  /** mm2 */
  area: 0,
  /** Normal times area, mm2: x, y, z. */
  facing: 1,
  /** Place times area, mm3: x, y, z. */
  moment: 4,
} as const;

/** Least x y z and greatest x y z. */
export const TILE_BOX = 6;

/**
 * S in connected patches, so that where no line runs a patch can be taken as a whole: what a moved line leaves alone is not
 * looked at triangle by triangle. Made once a surface; sums and boxes on the first question.
 */
export class SurfaceTiles {
  readonly count: number;
  /** Per triangle of the scan its tile; -1 off S. */
  readonly tileOf: Int32Array;
  /** Triangles by tile: tile n has those at starts[n] .. starts[n + 1] - 1. */
  readonly tris: Uint32Array;
  readonly starts: Int32Array;
  /** The tiles beside each, likewise. */
  readonly neighbours: Int32Array;
  readonly neighbourStarts: Int32Array;
  private known: { readonly sums: Float64Array; readonly boxes: Float64Array } | undefined;

  /** @param links by half-edge of S the opposite one, or -1. O(triangles), 70 ms measured for a million. */
  constructor(
    readonly mesh: TriMesh,
    links: Int32Array,
    isSurface: Uint8Array,
  ) {
    const { tileOf, tris, starts, pairs } = growTiles(links, isSurface);
    this.tileOf = tileOf;
    this.tris = tris;
    this.starts = starts;
    this.count = starts.length - 1;
    this.neighbourStarts = new Int32Array(this.count + 1);
    for (const tile of pairs) this.neighbourStarts[tile + 1]++;
    for (let n = 0; n < this.count; n++) this.neighbourStarts[n + 1] += this.neighbourStarts[n];
    this.neighbours = new Int32Array(pairs.length);
    const filled = this.neighbourStarts.slice();
    for (let n = 0; n < pairs.length; n++) this.neighbours[filled[pairs[n]]++] = pairs[n ^ 1];
  }

  /** count x TILE_SUMS */
  get sums(): Float64Array {
    return this.measured().sums;
  }

  /** count x TILE_BOX, mm */
  get boxes(): Float64Array {
    return this.measured().boxes;
  }

  private measured(): NonNullable<SurfaceTiles['known']> {
    if (this.known) return this.known;
    const { mesh, tris, starts } = this;
    const sums = new Float64Array(TILE_SUMS * this.count);
    const boxes = emptyBoxes(this.count);
    const normal = new Float64Array(3);
    for (let tile = 0; tile < this.count; tile++) {
      for (let n = starts[tile]; n < starts[tile + 1]; n++) {
        addTriSums(mesh, tris[n], sums, TILE_SUMS * tile, normal);
        addTriBox(mesh, tris[n], boxes, TILE_BOX * tile);
      }
    }
    this.known = { sums, boxes };
    return this.known;
  }
}

/** Adds a triangle to sums laid out as TILE_SUM says. `normal`: three numbers of scratch. */
export function addTriSums(
  mesh: TriMesh,
  tri: number,
  sums: Float64Array,
  at: number,
  normal: Float64Array,
): void {
  const { positions: p, indices } = mesh;
  const area = writeTriNormal(mesh, tri, normal) / 2;
  const a = 3 * indices[3 * tri];
  const b = 3 * indices[3 * tri + 1];
  const c = 3 * indices[3 * tri + 2];
  sums[at] += area;
  sums[at + 1] += normal[0] / 2;
  sums[at + 2] += normal[1] / 2;
  sums[at + 3] += normal[2] / 2;
  sums[at + 4] += (area * (p[a] + p[b] + p[c])) / 3;
  sums[at + 5] += (area * (p[a + 1] + p[b + 1] + p[c + 1])) / 3;
  sums[at + 6] += (area * (p[a + 2] + p[b + 2] + p[c + 2])) / 3;
}

/** Widens a box, laid out as TILE_BOX says, to hold a triangle. */
export function addTriBox(
  { positions, indices }: TriMesh,
  tri: number,
  boxes: Float64Array,
  at: number,
): void {
  for (let corner = 3 * tri; corner < 3 * tri + 3; corner++) {
    const v = 3 * indices[corner];
    const x = positions[v];
    const y = positions[v + 1];
    const z = positions[v + 2];
    if (x < boxes[at]) boxes[at] = x;
    if (y < boxes[at + 1]) boxes[at + 1] = y;
    if (z < boxes[at + 2]) boxes[at + 2] = z;
    if (x > boxes[at + 3]) boxes[at + 3] = x;
    if (y > boxes[at + 4]) boxes[at + 4] = y;
    if (z > boxes[at + 5]) boxes[at + 5] = z;
  }
}

/** Boxes that hold nothing: inside out. */
export function emptyBoxes(count: number): Float64Array {
  const boxes = new Float64Array(TILE_BOX * count);
  for (let n = 0; n < boxes.length; n++) boxes[n] = n % TILE_BOX < 3 ? Infinity : -Infinity;
  return boxes;
}

/** Of a surface that is not tiled. */
export const NO_TILES = new SurfaceTiles(
  { positions: new Float64Array(0), indices: new Uint32Array(0) },
  new Int32Array(0),
  new Uint8Array(0),
);

/** Each tile grows from a seed over its neighbours, breadth first, until it is full. `pairs`: tiles beside each other, two by two. */
function growTiles(
  links: Int32Array,
  isSurface: Uint8Array,
): Pick<SurfaceTiles, 'tileOf' | 'tris' | 'starts'> & { readonly pairs: readonly number[] } {
  const triCount = isSurface.length;
  const tileOf = new Int32Array(triCount).fill(-1);
  const tris = new Uint32Array(triCount);
  const starts = [0];
  const pairs: number[] = [];
  // By tile the later one that it was last paired with.
  const pairedWith: number[] = [];
  // Triangles beside full tiles: the next tile starts there, so that few scraps are left between tiles.
  const beside = new Uint32Array(triCount);
  const isBeside = new Uint8Array(triCount);
  let besideFrom = 0;
  let besideTo = 0;
  let filled = 0;
  let unseen = 0;
  for (;;) {
    let seed = -1;
    while (seed < 0 && besideFrom < besideTo) {
      const t = beside[besideFrom++];
      if (tileOf[t] < 0) seed = t;
    }
    for (; seed < 0 && unseen < triCount; unseen++) {
      if (isSurface[unseen] === 1 && tileOf[unseen] < 0) seed = unseen;
    }
    if (seed < 0) return { tileOf, tris, starts: Int32Array.from(starts), pairs };
    const tile = starts.length - 1;
    const full = filled + TILE_TRIS;
    let next = filled;
    tileOf[seed] = tile;
    tris[filled++] = seed;
    for (; next < filled; next++) {
      for (let h = 3 * tris[next]; h < 3 * tris[next] + 3; h++) {
        if (links[h] < 0) continue;
        const over = (links[h] / 3) | 0;
        const other = tileOf[over];
        if (other === tile) continue;
        if (other >= 0) {
          if (pairedWith[other] === tile) continue;
          pairedWith[other] = tile;
          pairs.push(other, tile);
        } else if (filled < full) {
          tileOf[over] = tile;
          tris[filled++] = over;
        } else if (isBeside[over] === 0) {
          isBeside[over] = 1;
          beside[besideTo++] = over;
        }
      }
    }
    starts.push(filled);
    pairedWith.push(-1);
  }
}
