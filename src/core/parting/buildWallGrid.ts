import type { Checkpoint } from '../checkpoint.ts';
import { BandGrid } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { HALF_DIAGONAL_CELLS } from '../field/buildBandField.ts';
import { growBand } from '../field/growBand.ts';
import { SEED_REACH_CELLS, seedBand } from '../field/seedBand.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import { buildVertexRings } from '../mesh/buildVertexRings.ts';
import { boundingBox, vertCount } from '../mesh/TriMesh.ts';
import type { PartingWall } from './buildWall.ts';

/** Unsigned distance to the parting face as far as the flange reaches, on the cells of `far`. */
export async function buildWallGrid(
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  thicknessMm: number,
  cp: Checkpoint,
): Promise<BandGrid> {
  const reach = Math.max(thicknessMm + HALF_DIAGONAL_CELLS * far.cellMm, SEED_REACH_CELLS * far.cellMm);
  const wallSource: BandSource = {
    mesh: wall.mesh,
    twins: buildTwins(wall.mesh.indices).twins,
    rings: buildVertexRings(wall.mesh.indices, vertCount(wall.mesh)),
    isSurface: new Uint8Array(wall.left.length).fill(1),
    box: boundingBox(wall.mesh),
    standsOnBoard: source.standsOnBoard,
    winding: source.winding,
  };
  const grid = new BandGrid(far.origin, far.cellMm, far.cells);
  await seedBand(grid, wallSource, cp.within(0, 0.5, 'setting up the flange'));
  // The wall has two sides and no inside: distances stay unsigned.
  await growBand(grid, wallSource, reach, true, cp.within(0.5, 1, 'setting up the flange'));
  return grid;
}
