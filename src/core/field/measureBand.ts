import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { CellRange } from './CellRange.ts';
import { clipBrick } from './clipBrick.ts';
import { considerNeighbours } from './considerNeighbours.ts';
import type { NearCells } from './measureNear.ts';
import { mendValleys } from './mendValleys.ts';
import type { OrderedSurface } from './OrderedSurface.ts';
import type { SampleCloud } from './SampleCloud.ts';
import { WALL } from './SampleWave.ts';
import { SurfaceWalk } from './SurfaceWalk.ts';

/** What is known already where S has an inside. */
export interface SignedCells {
  readonly near: NearCells;
  /** Inside cells are kept as far as this below S. */
  readonly insideMm: number;
  /** Inside cells over the mouths of holes, kept however deep. */
  readonly mouth: ReadonlySet<number>;
  /** The cells that are wanted; the others are let go. */
  readonly own?: CellRange;
}

/**
 * Puts exact distances in the place of samples, brick by brick: a walk from the sample's triangle. Cells that turn out to
 * lie beyond `bandMm` are let go. Leaves the grid as it is meant to be read, `tri` by the numbers of the mesh.
 */
export async function measureBand(
  grid: BandGrid,
  surface: OrderedSurface,
  cloud: SampleCloud,
  bandMm: number,
  cp: Checkpoint,
  signed?: SignedCells,
): Promise<void> {
  const walk = new SurfaceWalk(surface);
  // Apart from the samples, which the cells that follow still look up.
  const found = new Int32Array(grid.brickCount * BRICK_CELLS).fill(-1);
  const changed: number[] = [];
  let next = 0;
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause((0.8 * brick) / grid.brickCount);
    if (signed?.own && !clipBrick(grid, brick, signed.own)) continue;
    next = measureBrick(grid, cloud, walk, found, changed, brick, bandMm, signed, next);
  }
  const keep = (cell: number): void => {
    found[cell] = walk.tri;
    grid.phi[cell] = grid.phi[cell] < 0 ? -walk.distance() : walk.distance();
  };
  mendValleys(grid, walk, changed, (cell) => found[cell], keep);
  const { ids } = surface;
  for (let cell = 0; cell < found.length; cell++) if (found[cell] >= 0) found[cell] = ids[found[cell]];
  grid.tri = found;
}

/** `from`: the first of the near cells that is not done; returns the next one. */
function measureBrick(
  grid: BandGrid,
  cloud: SampleCloud,
  walk: SurfaceWalk,
  found: Int32Array,
  changed: number[],
  brick: number,
  bandMm: number,
  signed: SignedCells | undefined,
  from: number,
): number {
  const h = grid.cellMm;
  const { phi, tri, corners } = grid;
  const x0 = grid.origin[0] + (corners[3 * brick] + 0.5) * h;
  const y0 = grid.origin[1] + (corners[3 * brick + 1] + 0.5) * h;
  const z0 = grid.origin[2] + (corners[3 * brick + 2] + 0.5) * h;
  let next = from;
  for (let local = 0; local < BRICK_CELLS; local++) {
    const cell = brick * BRICK_CELLS + local;
    if (phi[cell] === UNREACHED) continue;
    // A near cell that was let go may have been reached again: then it is measured as any other.
    while (signed !== undefined && next < signed.near.count && signed.near.cells[next] < cell) next++;
    let d: number;
    let t: number;
    if (
      signed !== undefined &&
      next < signed.near.count &&
      signed.near.cells[next] === cell &&
      signed.near.phi[next] !== UNREACHED
    ) {
      t = signed.near.feet.tris[next];
      d = signed.near.phi[next++];
    } else {
      walk.run(
        cloud.tris[tri[cell]],
        x0 + (local & 7) * h,
        y0 + ((local >> 3) & 7) * h,
        z0 + (local >> 6) * h,
      );
      if (considerNeighbours(grid, cloud, walk, cell)) changed.push(cell);
      t = walk.tri;
      d = walk.distance();
    }
    if (signed !== undefined && phi[cell] === WALL) {
      d = -Math.abs(d);
      if (d < -signed.insideMm && !signed.mouth.has(cell)) {
        phi[cell] = UNREACHED;
        continue;
      }
    }
    if (d > bandMm) {
      phi[cell] = UNREACHED;
    } else {
      phi[cell] = d;
      found[cell] = t;
    }
  }
  return next;
}
