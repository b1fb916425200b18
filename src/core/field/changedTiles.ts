import { TILE_BOX } from '../parting/SurfaceTiles.ts';
import type { CutSegments, CutSurface } from '../parting/types.ts';
import { type IndexedSegments, LineIndex } from './LineIndex.ts';

/** What of a cut tells how it divides the cells. */
export type CutOutline = Pick<CutSurface, 'segments' | 'triRegion' | 'parts'>;

/**
 * Which tiles two cuts of one surface do not leave alike: 1 for those that have other regions, or that lie within reach of a
 * segment that only one of the cuts has. In all others each cell is divided as it was, to the last bit (but for cells whose centre
 * stands on a line itself, where a dangling end or a sliver beside it may have been cut otherwise).
 *
 * @param reachMm how far from a line a cell is asked for it, with room for what the looking up is coarser.
 * @returns undefined when nothing can be told: the surface has no tiles, or they are others.
 * Cost: O(segments) and O(tiles), and the triangles of the tiles that lines touch.
 */
export function changedTiles(was: CutOutline, now: CutOutline, reachMm: number): Uint8Array | undefined {
  const { tiles, tileRegion } = now.parts;
  if (tiles.count === 0 || was.parts.tiles !== tiles) return undefined;
  const lines = new LineIndex(changedSegments(was.segments, now.segments), reachMm);
  return Uint8Array.from(tileRegion, (region, tile) => {
    if (region !== was.parts.tileRegion[tile]) return 1;
    const [x0, y0, z0, x1, y1, z1] = tiles.boxes.subarray(TILE_BOX * tile, TILE_BOX * (tile + 1));
    if (lines.mayTouch(x0, y0, z0, x1, y1, z1)) return 1;
    if (region >= 0) return 0;
    for (let n = tiles.starts[tile]; n < tiles.starts[tile + 1]; n++) {
      if (was.triRegion[tiles.tris[n]] !== now.triRegion[tiles.tris[n]]) return 1;
    }
    return 0;
  });
}

/**
 * The segments of either cut that lie between what both have at the beginning and at the end of a path: a point that is moved
 * changes the run between its neighbours. On each path the order of the others stays, and with it who wins where two are as near.
 */
function changedSegments(was: CutSegments, now: CutSegments): IndexedSegments {
  const before = segmentsByPath(was);
  const after = segmentsByPath(now);
  const ends: number[] = [];
  for (let path = 0; path < Math.max(before.length, after.length); path++) {
    const a = before[path] ?? [];
    const b = after[path] ?? [];
    const shorter = Math.min(a.length, b.length);
    let head = 0;
    while (head < shorter && isSame(was, a[head], now, b[head])) head++;
    let tail = 0;
    while (tail < shorter - head && isSame(was, a[a.length - 1 - tail], now, b[b.length - 1 - tail])) tail++;
    for (const s of a.slice(head, a.length - tail)) ends.push(...was.ends.subarray(6 * s, 6 * s + 6));
    for (const s of b.slice(head, b.length - tail)) ends.push(...now.ends.subarray(6 * s, 6 * s + 6));
  }
  const count = ends.length / 6;
  return { count, ends: Float64Array.from(ends), path: new Int32Array(count) };
}

function segmentsByPath({ count, path }: CutSegments): number[][] {
  const lists: number[][] = [];
  for (let s = 0; s < count; s++) {
    while (lists.length <= path[s]) lists.push([]);
    lists[path[s]].push(s);
  }
  return lists;
}

function isSame(was: CutSegments, a: number, now: CutSegments, b: number): boolean {
  if (was.tri[a] !== now.tri[b] || was.left[a] !== now.left[b] || was.right[a] !== now.right[b]) return false;
  for (let k = 0; k < 6; k++) if (was.ends[6 * a + k] !== now.ends[6 * b + k]) return false;
  return true;
}
