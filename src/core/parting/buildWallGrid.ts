import type { Checkpoint } from '../checkpoint.ts';
import { BandGrid } from '../field/BandGrid.ts';
import { HALF_DIAGONAL_CELLS } from '../field/buildBandField.ts';
import { measureUnsigned } from '../field/measureUnsigned.ts';
import { orderSurface } from '../field/OrderedSurface.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import type { PartingWall } from './buildWall.ts';

/** Unsigned distance to the parting face as far as the flange reaches, on the cells of `far`: it has two sides and no inside. */
export async function buildWallGrid(
  far: BandGrid,
  wall: PartingWall,
  thicknessMm: number,
  cp: Checkpoint,
): Promise<BandGrid> {
  const reach = Math.max(thicknessMm + HALF_DIAGONAL_CELLS * far.cellMm, far.cellMm);
  const { twins } = buildTwins(wall.mesh.indices);
  const surface = orderSurface(wall.mesh, twins, new Uint8Array(wall.left.length).fill(1));
  const grid = new BandGrid(far.origin, far.cellMm, far.cells);
  await measureUnsigned(grid, surface, reach, cp.within(0, 1, 'setting up the flange'));
  return grid;
}
