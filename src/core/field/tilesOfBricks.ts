import type { SurfaceTiles } from '../parting/SurfaceTiles.ts';
import { type BandGrid, BRICK_CELLS } from './BandGrid.ts';

/** The tiles that hold the nearest triangles of each brick's cells. */
export interface BrickTiles {
  readonly of: SurfaceTiles;
  /** Tiles by brick: brick b has those at starts[b] .. starts[b + 1] - 1, each once. */
  readonly tiles: Int32Array;
  readonly starts: Int32Array;
}

const known = new WeakMap<BandGrid, BrickTiles>();

/** Kept with the field: lines that move leave it as it is. O(cells) once. */
export function tilesOfBricks(grid: BandGrid, of: SurfaceTiles): BrickTiles {
  let listed = known.get(grid);
  if (listed?.of !== of) {
    listed = listTiles(grid, of);
    known.set(grid, listed);
  }
  return listed;
}

function listTiles(grid: BandGrid, of: SurfaceTiles): BrickTiles {
  const tiles: number[] = [];
  const starts = new Int32Array(grid.brickCount + 1);
  // By tile the brick that it was last listed for.
  const listedFor = new Int32Array(of.count).fill(-1);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    for (let cell = brick * BRICK_CELLS; cell < (brick + 1) * BRICK_CELLS; cell++) {
      if (grid.tri[cell] < 0) continue;
      const tile = of.tileOf[grid.tri[cell]];
      if (listedFor[tile] === brick) continue;
      listedFor[tile] = brick;
      tiles.push(tile);
    }
    starts[brick + 1] = tiles.length;
  }
  return { of, tiles: Int32Array.from(tiles), starts };
}
