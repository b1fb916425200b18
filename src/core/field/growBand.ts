import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from './BandGrid.ts';
import type { BandSource } from './BandSource.ts';
import type { CellRange } from './CellRange.ts';
import { measureBand } from './measureBand.ts';
import type { NearCells } from './measureNear.ts';
import { OPEN_SIDE, type OrderedSurface, SIDES, TRI_STRIDE } from './OrderedSurface.ts';
import type { SampleCloud } from './SampleCloud.ts';
import { SampleWave, WALL } from './SampleWave.ts';
import { SurfaceWalk } from './SurfaceWalk.ts';
import { INSIDE_ABOVE } from './signBand.ts';

/** Cells between two looks at the clock. */
const CHUNK = 4096;

/** Vertices nearer to the board than this share of a cell do not count as the rim of a hole. */
const ON_BOARD_CELLS = 1e-6;

/** A sample is at most this much farther off than S itself where S is smooth: half a part across, from two cells on. */
const SAMPLE_SLACK_CELLS = 0.3;

/**
 * Carries samples outward from the near cells on the outside until `bandMm`, then measures every cell so reached exactly,
 * brick by brick, by a walk from its sample's triangle. Inside cells are walls. On a surface with holes a cell whose
 * nearest point is the rim of a hole is asked for its winding number, so that the wave stops at the mouth.
 *
 * Leaves the grid as it is meant to be read: signed distance in mm, nearest triangle by its number in the mesh; inside cells
 * down to `insideMm` are kept. Exact up to cells whose nearest point lies on a part of S that none of the samples near it
 * stands for (measured against the tree in test/core/field).
 */
export async function growBand(
  grid: BandGrid,
  source: BandSource,
  near: NearCells,
  bandMm: number,
  insideMm: number,
  isClosed: boolean,
  cp: Checkpoint,
  own?: CellRange,
): Promise<void> {
  const wave = new SampleWave(grid, near.feet, bandMm / grid.cellMm + SAMPLE_SLACK_CELLS);
  startOutside(grid, near, wave);
  const mouth = isClosed ? undefined : new Mouth(grid, source, near.feet);
  while (wave.advance(CHUNK, mouth?.meet)) {
    if (cp.due()) await cp.pause(0.4 * wave.fraction());
  }
  await measureBand(grid, source.ordered, near.feet, bandMm, cp.within(0.4, 1, 'measuring distances'), {
    near,
    insideMm,
    mouth: new Set(mouth?.cells),
    ...(own && { own }),
  });
}

/** Outside cells start the wave with the squares of their distances, inside cells are walls. */
function startOutside(grid: BandGrid, near: NearCells, wave: SampleWave): void {
  const { phi } = grid;
  for (let n = 0; n < near.count; n++) {
    const cell = near.cells[n];
    if (near.phi[n] === UNREACHED) continue;
    if (near.phi[n] < 0) {
      phi[cell] = WALL;
    } else {
      phi[cell] = (near.phi[n] / grid.cellMm) ** 2;
      wave.push(cell);
    }
  }
}

/** Cells over the mouth of a hole: nearest to its rim, and inside by the winding number. */
class Mouth {
  readonly cells: number[] = [];
  private readonly walk: SurfaceWalk;
  private readonly atRim: Uint8Array;

  constructor(
    private readonly grid: BandGrid,
    private readonly source: BandSource,
    private readonly cloud: SampleCloud,
  ) {
    this.walk = new SurfaceWalk(source.ordered);
    this.atRim = trisAtRim(source.ordered);
  }

  /** False when the cell lies inside, which makes it a wall. */
  readonly meet = (cell: number): boolean => {
    const { grid, walk, source } = this;
    const tri = this.cloud.tris[grid.tri[cell]];
    if (this.atRim[tri] === 0) return true;
    const { corners, origin, cellMm } = grid;
    const brick = 3 * ((cell / BRICK_CELLS) | 0);
    const x = origin[0] + (corners[brick] + (cell & 7) + 0.5) * cellMm;
    const y = origin[1] + (corners[brick + 1] + ((cell >> 3) & 7) + 0.5) * cellMm;
    const z = origin[2] + (corners[brick + 2] + ((cell >> 6) & 7) + 0.5) * cellMm;
    walk.run(tri, x, y, z);
    if (!walk.isOnRim(source.standsOnBoard, cellMm * ON_BOARD_CELLS)) return true;
    if (source.winding.windingNumber(x, y, z) <= INSIDE_ABOVE) return true;
    grid.phi[cell] = WALL;
    this.cells.push(cell);
    return false;
  };
}

/** 1 for triangles that touch an open side, with a corner at least. */
function trisAtRim(surface: OrderedSurface): Uint8Array {
  const { tris, triCount } = surface;
  const verts = new Uint8Array(surface.positions.length);
  for (let t = 0; t < triCount; t++) {
    for (let k = 0; k < 3; k++) {
      if (tris[t * TRI_STRIDE + SIDES + k] !== OPEN_SIDE) continue;
      verts[tris[t * TRI_STRIDE + k]] = 1;
      verts[tris[t * TRI_STRIDE + ((k + 1) % 3)]] = 1;
    }
  }
  return Uint8Array.from(
    { length: triCount },
    (_, t) => verts[tris[t * TRI_STRIDE]] | verts[tris[t * TRI_STRIDE + 1]] | verts[tris[t * TRI_STRIDE + 2]],
  );
}
