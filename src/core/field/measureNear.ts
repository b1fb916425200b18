import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import { considerNeighbours } from './considerNeighbours.ts';
import { mendValleys } from './mendValleys.ts';
import type { OrderedSurface } from './OrderedSurface.ts';
import { SampleCloud } from './SampleCloud.ts';
import { SurfaceWalk } from './SurfaceWalk.ts';

/** The cells near S, measured. */
export interface NearCells {
  readonly count: number;
  /** Ascending. */
  readonly cells: Int32Array;
  /** Signed distance, mm; the sign is the nearest face's own and may yet be overruled. UNREACHED: let go. */
  readonly phi: Float32Array;
  /** Nearest point and triangle of each, by the same numbers. */
  readonly feet: SampleCloud;
}

/**
 * Exact distance of every cell that holds a sample, by a walk from the sample's triangle, with the sign of the side of the
 * nearest face. Afterwards `grid.phi` holds that distance and `grid.tri` the cell's number in the list: the nearest points
 * take the place of the samples, being nearer to where the wave goes, and in the order of the bricks.
 */
export async function measureNear(
  grid: BandGrid,
  surface: OrderedSurface,
  cloud: SampleCloud,
  cp: Checkpoint,
): Promise<NearCells> {
  let count = 0;
  const end = grid.brickCount * BRICK_CELLS;
  for (let cell = 0; cell < end; cell++) if (grid.phi[cell] !== UNREACHED) count++;
  const near = {
    count,
    cells: new Int32Array(count),
    phi: new Float32Array(count),
    feet: new SampleCloud(count),
  };
  const walk = new SurfaceWalk(surface);
  const changed: number[] = [];
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    measureBrick(grid, cloud, walk, brick, near, changed);
  }
  for (let n = 0; n < count; n++) {
    grid.tri[near.cells[n]] = n;
    grid.phi[near.cells[n]] = near.phi[n];
  }
  const keep = (cell: number): void => {
    const n = grid.tri[cell];
    near.phi[n] = walk.signedDistance();
    grid.phi[cell] = near.phi[n];
    putFoot(grid, walk, near.feet, n);
  };
  mendValleys(grid, walk, changed, (cell) => near.feet.tris[grid.tri[cell]], keep);
  return near;
}

function measureBrick(
  grid: BandGrid,
  cloud: SampleCloud,
  walk: SurfaceWalk,
  brick: number,
  near: NearCells,
  changed: number[],
): void {
  const h = grid.cellMm;
  const { phi, tri, corners, origin } = grid;
  const { cells, phi: distances, feet } = near;
  for (let local = 0; local < BRICK_CELLS; local++) {
    const cell = brick * BRICK_CELLS + local;
    if (phi[cell] === UNREACHED) continue;
    const x = origin[0] + (corners[3 * brick] + (local & 7) + 0.5) * h;
    const y = origin[1] + (corners[3 * brick + 1] + ((local >> 3) & 7) + 0.5) * h;
    const z = origin[2] + (corners[3 * brick + 2] + (local >> 6) + 0.5) * h;
    walk.run(cloud.tris[tri[cell]], x, y, z);
    if (considerNeighbours(grid, cloud, walk, cell)) changed.push(cell);
    cells[feet.count] = cell;
    distances[feet.count] = walk.signedDistance();
    putFoot(grid, walk, feet, feet.count++);
  }
}

/** Makes the nearest point of the last walk sample `n`. */
function putFoot(grid: BandGrid, walk: SurfaceWalk, feet: SampleCloud, n: number): void {
  const { origin, cellMm } = grid;
  const point = walk.point();
  feet.put(
    n,
    (point[0] - origin[0]) / cellMm - 0.5,
    (point[1] - origin[1]) / cellMm - 0.5,
    (point[2] - origin[2]) / cellMm - 0.5,
    walk.tri,
  );
}
