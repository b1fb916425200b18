import type { Checkpoint } from '../checkpoint.ts';
import { BallGrid } from '../field/BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { closestOnTriangle } from '../field/closestOnTriangle.ts';
import { contourCells, type LookSurface } from '../field/contourPieces.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import type { PartingWall } from './buildWall.ts';
import { buildWallGrid } from './buildWallGrid.ts';
import { type CutSurface, NO_REGION } from './types.ts';

/** A border is contoured from the cells about it; farther off only the side counts. */
const CLEAR_REACH_CELLS = 4;

/**
 * The flange of every region, from `fromMm` to `toMm` above the rubber, as closed surfaces good for looking at: contoured
 * from the distances to wall and rubber, so that it holds together where the line bends sharply; left out where the nearest
 * rubber is kept clear. Edges come out rounded by about a cell of `far`.
 */
export async function contourFlange(
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  cut: CutSurface,
  thicknessMm: number,
  fromMm: number,
  toMm: number,
  keepClear: readonly AreaBall[],
  cp: Checkpoint,
): Promise<LookSurface[]> {
  const grid = await buildWallGrid(far, wall, thicknessMm, cp.within(0, 0.4, 'drawing the flange'));
  const cells = grid.brickCount * BRICK_CELLS;
  const clear = new BallGrid(keepClear, CLEAR_REACH_CELLS * far.cellMm);
  // Per cell: how far it is out of the band between the two distances or into what is kept clear, and the region on whose side of the wall it lies:
  // that of its nearest rubber; where a line runs through that very triangle, the side of the nearest wall.
  const outOfBand = new Float32Array(cells).fill(UNREACHED);
  const sideOf = new Int16Array(cells).fill(NO_REGION);
  const corner = new Int32Array(3);
  const foot = new Float64Array(4);
  /** To the wall's right-hand region. */
  const n = new Float64Array(3);
  const h = grid.cellMm;
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(0.4 + (0.2 * brick) / grid.brickCount);
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      if (grid.phi[cell] === UNREACHED) continue;
      const i = corner[0] + (local & 7);
      const j = corner[1] + ((local >> 3) & 7);
      const k = corner[2] + (local >> 6);
      const farCell = far.cellAt(i, j, k);
      if (farCell < 0 || far.phi[farCell] === UNREACHED) continue;
      outOfBand[cell] = Math.max(fromMm - far.phi[farCell], far.phi[farCell] - toMm);
      const x = grid.origin[0] + (i + 0.5) * h;
      const y = grid.origin[1] + (j + 0.5) * h;
      const z = grid.origin[2] + (k + 0.5) * h;
      if (!clear.isEmpty) {
        closestOnTriangle(source.mesh.positions, source.mesh.indices, far.tri[farCell], x, y, z, foot);
        outOfBand[cell] = Math.max(outOfBand[cell], clear.reachInto(foot[0], foot[1], foot[2]));
      }
      const tri = grid.tri[cell];
      closestOnTriangle(wall.mesh.positions, wall.mesh.indices, tri, x, y, z, foot);
      writeTriNormal(wall.mesh, tri, n);
      const isRight = (x - foot[0]) * n[0] + (y - foot[1]) * n[1] + (z - foot[2]) * n[2] >= 0;
      const label = cut.triRegion[far.tri[farCell]];
      sideOf[cell] = label >= 0 ? label : isRight ? wall.right[tri] : wall.left[tri];
    }
  }
  const out: LookSurface[] = [];
  for (let region = 0; region < cut.regionCount; region++) {
    const inRegion = (cell: number): number => {
      if (outOfBand[cell] === UNREACHED) return UNREACHED;
      const beside = sideOf[cell] === region ? grid.phi[cell] : -grid.phi[cell];
      return Math.max(outOfBand[cell], beside - thicknessMm, -beside);
    };
    const phase = cp.within(
      0.6 + (0.4 * region) / cut.regionCount,
      0.6 + (0.4 * (region + 1)) / cut.regionCount,
      'drawing the flange',
    );
    out.push(await contourCells(grid, source.standsOnBoard, inRegion, phase));
  }
  return out;
}
