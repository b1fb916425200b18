import type { Wall } from './placePathNodes.ts';
import { nextHalf, type SurfaceContext } from './SurfaceContext.ts';

/** The cut mesh before its regions are known. Its first `whole` triangles are untouched ones of the scan. */
export interface CutMesh {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly cutTriSource: Int32Array;
  readonly whole: number;
}

/** Connected sets of cut triangles that no wall parts. */
export interface Patches {
  readonly count: number;
  /** The patch of a cut triangle. */
  readonly of: (tri: number) => number;
  /** Per tile of the surface; -1 for one that a wall touches. */
  readonly ofTile: Int32Array;
  /** The cut triangles in tiles that walls touch. */
  readonly loose: Int32Array;
}

/** Names an edge, whichever way it is run. */
export const edgeKey = (a: number, b: number, nodeCount: number): number =>
  a < b ? a * nodeCount + b : b * nodeCount + a;

/** Finds the cut triangle to the left of a directed edge of the cut mesh; `near` is a scan triangle that has the edge. -1: none. */
export type SideFinder = (from: number, to: number, near: number) => number;

function sideOfEdges(surface: SurfaceContext, mesh: CutMesh, cutOfScan: Int32Array): SideFinder {
  const { indices: scanIndices, links, vertCount } = surface;
  const { indices, whole, cutTriSource } = mesh;
  const nodeCount = mesh.positions.length / 3;
  const left = new Map<number, number>();
  for (let i = whole; i < cutTriSource.length; i++) {
    for (let k = 0; k < 3; k++) {
      left.set(indices[3 * i + k] * nodeCount + indices[3 * i + ((k + 1) % 3)], i);
    }
  }
  return (from, to, near) => {
    const cut = left.get(from * nodeCount + to);
    if (cut !== undefined) return cut;
    if (from >= vertCount || to >= vertCount) return -1;
    // An edge of the scan whose triangle on this side is whole: found from the triangle that is known to have it.
    for (let h = 3 * near; h < 3 * near + 3; h++) {
      const a = scanIndices[h];
      const b = scanIndices[nextHalf(h)];
      const half = a === from && b === to ? h : a === to && b === from ? links[h] : -2;
      if (half === -2) continue;
      if (half < 0) return -1;
      return cutOfScan[(half / 3) | 0];
    }
    return -1;
  };
}

/**
 * The patches, and who finds the triangles beside a wall. Tiles that no wall touches are taken as a whole: O(n) copying, and the
 * triangles of the others.
 */
export function floodPatches(
  surface: SurfaceContext,
  mesh: CutMesh,
  walls: readonly Wall[],
): Patches & { readonly sides: SideFinder } {
  const { cutTriSource, whole } = mesh;
  // Per triangle of the scan its place in the cut mesh, -1 when touched.
  const cutOfScan = new Int32Array(surface.triCount).fill(-1);
  for (let i = 0; i < whole; i++) cutOfScan[cutTriSource[i]] = i;
  const sides = sideOfEdges(surface, mesh, cutOfScan);
  const isOpen = openTiles(surface, mesh, walls);
  const loose = looseTris(surface, mesh, isOpen, cutOfScan);
  const flood = new PatchFlood(surface, mesh, walls, sides, isOpen, cutOfScan);
  const { tiles } = surface;
  for (let tile = 0; tile < tiles.count; tile++) {
    if (isOpen[tile] === 0) flood.from(cutOfScan[tiles.tris[tiles.starts[tile]]]);
  }
  for (const i of loose) flood.from(i);
  return { count: flood.count, of: (i) => flood.patchAt(i), ofTile: flood.ofTile, loose, sides };
}

/** Fills patch after patch from triangles that are in none yet. */
class PatchFlood {
  count = 0;
  /** Per cut triangle of an open tile its patch, or -1. */
  private readonly of: Int32Array;
  /** Per tile that is not open its patch, or -1. */
  readonly ofTile: Int32Array;
  private readonly stack: number[] = [];
  private readonly tileStack: number[] = [];
  /** Walls are looked up only where both ends of an edge are on one. */
  private readonly wallKeys = new Set<number>();
  private readonly onWall: Uint8Array;

  constructor(
    private readonly surface: SurfaceContext,
    private readonly mesh: CutMesh,
    walls: readonly Wall[],
    private readonly sides: SideFinder,
    private readonly isOpen: Uint8Array,
    private readonly cutOfScan: Int32Array,
  ) {
    const nodeCount = mesh.positions.length / 3;
    this.onWall = new Uint8Array(nodeCount);
    for (const { from, to } of walls) {
      this.wallKeys.add(edgeKey(from, to, nodeCount));
      this.onWall[from] = 1;
      this.onWall[to] = 1;
    }
    this.of = new Int32Array(mesh.cutTriSource.length).fill(-1);
    this.ofTile = new Int32Array(surface.tiles.count).fill(-1);
  }

  /** Fills the patch of a cut triangle, unless that is done. */
  from(seed: number): void {
    if (this.patchAt(seed) >= 0) return;
    this.take(seed);
    for (;;) {
      const tile = this.tileStack.pop();
      const i = tile === undefined ? this.stack.pop() : undefined;
      if (tile !== undefined) this.leave(tile);
      else if (i !== undefined) this.cross(i);
      else break;
    }
    this.count++;
  }

  /** Takes the neighbours of a triangle that no wall parts from it. */
  private cross(i: number): void {
    const { links, tiles } = this.surface;
    const { indices, cutTriSource, whole, positions } = this.mesh;
    const { onWall, wallKeys, cutOfScan } = this;
    const t = cutTriSource[i];
    const tile = this.tileAt(i);
    for (let k = 0; k < 3; k++) {
      // From a whole triangle to a whole one by the scan's own links; over an edge with a touched one by its nodes.
      let next = -1;
      if (i < whole) {
        const over = links[3 * t + k];
        if (over < 0) continue;
        const beyond = (over / 3) | 0;
        if (tile >= 0 && tiles.tileOf[beyond] === tile) continue;
        next = cutOfScan[beyond];
      }
      const a = indices[3 * i + k];
      const b = indices[3 * i + (k === 2 ? 0 : k + 1)];
      if (onWall[a] && onWall[b] && wallKeys.has(edgeKey(a, b, positions.length / 3))) continue;
      if (next < 0) next = this.sides(b, a, t);
      if (next >= 0) this.take(next);
    }
  }

  /** Takes the tiles beside a tile, and where one of them is open, puts its border on the stack. */
  private leave(tile: number): void {
    const { links, tiles } = this.surface;
    const { neighbours, neighbourStarts, tris, starts, tileOf } = tiles;
    let isBesideOpen = false;
    for (let n = neighbourStarts[tile]; n < neighbourStarts[tile + 1]; n++) {
      const other = neighbours[n];
      if (this.isOpen[other] === 1) isBesideOpen = true;
      else this.takeTile(other);
    }
    if (!isBesideOpen) return;
    for (let n = starts[tile]; n < starts[tile + 1]; n++) {
      for (let h = 3 * tris[n]; h < 3 * tris[n] + 3; h++) {
        if (links[h] < 0 || tileOf[(links[h] / 3) | 0] === tile) continue;
        this.stack.push(this.cutOfScan[tris[n]]);
        break;
      }
    }
  }

  /** Puts a triangle, or its tile, on a stack, unless it is in a patch. */
  private take(i: number): void {
    const tile = this.tileAt(i);
    if (tile >= 0) {
      this.takeTile(tile);
    } else if (this.of[i] < 0) {
      this.of[i] = this.count;
      this.stack.push(i);
    }
  }

  private takeTile(tile: number): void {
    if (this.ofTile[tile] >= 0) return;
    this.ofTile[tile] = this.count;
    this.tileStack.push(tile);
  }

  /** The patch of a cut triangle, or -1. */
  patchAt(i: number): number {
    const tile = this.tileAt(i);
    return tile < 0 ? this.of[i] : this.ofTile[tile];
  }

  /** The tile that a triangle is taken with, or -1. */
  private tileAt(i: number): number {
    const { cutTriSource, whole } = this.mesh;
    const tile = i < whole ? this.surface.tiles.tileOf[cutTriSource[i]] : -1;
    return tile >= 0 && this.isOpen[tile] === 0 ? tile : -1;
  }
}

/** 1 for the tiles that a wall runs through or along. */
function openTiles({ tiles, links }: SurfaceContext, mesh: CutMesh, walls: readonly Wall[]): Uint8Array {
  const isOpen = new Uint8Array(tiles.count);
  for (let i = mesh.whole; i < mesh.cutTriSource.length; i++) isOpen[tiles.tileOf[mesh.cutTriSource[i]]] = 1;
  for (const { tri } of walls) {
    isOpen[tiles.tileOf[tri]] = 1;
    for (let h = 3 * tri; h < 3 * tri + 3; h++) {
      if (links[h] >= 0) isOpen[tiles.tileOf[(links[h] / 3) | 0]] = 1;
    }
  }
  return isOpen;
}

/** The triangles of the cut mesh that lie in open tiles. */
function looseTris(
  { tiles: { count, starts, tris } }: SurfaceContext,
  { cutTriSource, whole }: CutMesh,
  isOpen: Uint8Array,
  cutOfScan: Int32Array,
): Int32Array {
  const loose: number[] = [];
  for (let tile = 0; tile < count; tile++) {
    if (isOpen[tile] === 0) continue;
    for (let n = starts[tile]; n < starts[tile + 1]; n++) {
      if (cutOfScan[tris[n]] >= 0) loose.push(cutOfScan[tris[n]]);
    }
  }
  for (let i = whole; i < cutTriSource.length; i++) loose.push(i);
  return Int32Array.from(loose);
}
