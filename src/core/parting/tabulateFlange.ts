import type { Checkpoint } from '../checkpoint.ts';
import type { BallGrid } from '../field/BallGrid.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { type CoatTable, sumRunning, TABLE_WIDTH } from '../field/CoatTable.ts';
import { closestOnTriangle } from '../field/closestOnTriangle.ts';
import { cubeCut, cubeReach } from '../field/cubeCut.ts';
import { openShare } from '../field/openShare.ts';
import { clearGrid } from '../field/sumRegions.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import type { PartingWall } from './buildWall.ts';
import { buildWallGrid } from './buildWallGrid.ts';

/** Least number of knots a cell edge. */
const KNOTS_PER_CELL = 2;

/** Nearer than this many cell edges to a surface there is no direction from it; its normal is taken. */
const NO_DIRECTION_CELLS = 1e-6;

/**
 * For each region the volume within `thicknessMm` of the parting face on the region's side, as a table over the distance
 * from the rubber: flange between two distances = difference of two rows. As with the coats nothing is laid where the
 * nearest rubber is kept clear.
 *
 * Cells are cut by the level set of the distance from the rubber and by the planes beside the wall, taken as square to
 * each other. Exact for flat walls on flat rubber; otherwise second order in the cell.
 *
 * @param far distance from the rubber out to `reachMm`, on a grid of the flange's own; serves for every line on the scan.
 * @param reachMm largest distance that will be asked for.
 */
export async function tabulateFlange(
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  regionCount: number,
  thicknessMm: number,
  reachMm: number,
  keepClear: readonly AreaBall[],
  cp: Checkpoint,
): Promise<CoatTable[]> {
  // The last knot stands at the reach itself: one beyond it would lack the cells that the field does not hold.
  const steps = Math.ceil((reachMm * KNOTS_PER_CELL) / far.cellMm);
  const knotMm = reachMm / steps;
  const knotCount = steps + 1;
  const sums = Array.from({ length: regionCount }, () => new Float64Array(knotCount * TABLE_WIDTH));
  if (wall.left.length > 0) {
    const grid = await buildWallGrid(far, wall, thicknessMm, cp.within(0, 0.6, 'setting up the flange'));
    const measuring = cp.within(0.6, 1, 'measuring the flange');
    const clear = clearGrid(keepClear, far.cellMm);
    await addCells(grid, source, far, wall, thicknessMm, knotMm, knotCount, clear, sums, measuring);
  }
  for (const sum of sums) sumRunning(sum);
  return sums.map((rows) => ({ knotMm, knotCount, rows }));
}

async function addCells(
  grid: BandGrid,
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  thicknessMm: number,
  knotMm: number,
  knotCount: number,
  clear: BallGrid,
  sums: readonly Float64Array[],
  cp: Checkpoint,
): Promise<void> {
  const h = grid.cellMm;
  const cellVolume = h ** 3;
  const corner = new Int32Array(3);
  const foot = new Float64Array(4);
  /** To the wall's right-hand region. */
  const n = new Float64Array(3);
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      if (grid.phi[cell] === UNREACHED) continue;
      const x = grid.origin[0] + (corner[0] + (local & 7) + 0.5) * h;
      const y = grid.origin[1] + (corner[1] + ((local >> 3) & 7) + 0.5) * h;
      const z = grid.origin[2] + (corner[2] + (local >> 6) + 0.5) * h;
      const tri = grid.tri[cell];
      closestOnTriangle(wall.mesh.positions, wall.mesh.indices, tri, x, y, z, foot);
      const wallDistance = Math.sqrt(foot[3]);
      const twiceArea = writeTriNormal(wall.mesh, tri, n) || 1;
      for (let k = 0; k < 3; k++) n[k] /= twiceArea;
      const along = (x - foot[0]) * n[0] + (y - foot[1]) * n[1] + (z - foot[2]) * n[2];
      // Growing away from the wall on the cell's own side.
      let gx = along < 0 ? -n[0] : n[0];
      let gy = along < 0 ? -n[1] : n[1];
      let gz = along < 0 ? -n[2] : n[2];
      if (wallDistance > NO_DIRECTION_CELLS * h && Math.abs(along) < 0.999 * wallDistance) {
        gx = (x - foot[0]) / wallDistance;
        gy = (y - foot[1]) / wallDistance;
        gz = (z - foot[2]) / wallDistance;
      }
      if (wallDistance - cubeReach(gx, gy, gz) * h > thicknessMm) continue;
      const upTo = cubeCut(gx, gy, gz, (thicknessMm - wallDistance) / h);
      const beyondWall = cubeCut(gx, gy, gz, -wallDistance / h);
      const beyondOther = cubeCut(gx, gy, gz, (-thicknessMm - wallDistance) / h);
      const own = along < 0 ? wall.left[tri] : wall.right[tri];
      const other = along < 0 ? wall.right[tri] : wall.left[tri];
      const farCell = far.cellAt(
        corner[0] + (local & 7),
        corner[1] + ((local >> 3) & 7),
        corner[2] + (local >> 6),
      );
      if (farCell < 0 || far.phi[farCell] === UNREACHED) continue;
      const phi = far.phi[farCell];
      closestOnTriangle(source.mesh.positions, source.mesh.indices, far.tri[farCell], x, y, z, foot);
      const d = Math.sqrt(foot[3]);
      // On the rubber itself the direction does not matter: no flange is asked for so near.
      const inverse = d > NO_DIRECTION_CELLS * h ? (phi < 0 ? -1 : 1) / d : 0;
      const dx = inverse === 0 ? 0 : (x - foot[0]) * inverse;
      const dy = inverse === 0 ? 0 : (y - foot[1]) * inverse;
      const dz = inverse === 0 ? 1 : (z - foot[2]) * inverse;
      const openMm3 = clear.isEmpty ? cellVolume : cellVolume * openShare(clear, foot, dx, dy, dz, h);
      if (openMm3 === 0) continue;
      const reach = cubeReach(dx, dy, dz) * h;
      const first = Math.max(0, Math.ceil((phi - reach) / knotMm));
      const full = Math.max(first, Math.ceil((phi + reach) / knotMm));
      let before = 0;
      for (let k = first; k <= full && k < knotCount; k++) {
        const now = k < full ? cubeCut(dx, dy, dz, (k * knotMm - phi) / h) : 1;
        const volume = (now - before) * openMm3;
        before = now;
        addRow(sums[own], k, volume * (upTo - beyondWall), x, y, z);
        addRow(sums[other], k, volume * (beyondWall - beyondOther), x, y, z);
      }
    }
  }
}

function addRow(rows: Float64Array, k: number, volume: number, x: number, y: number, z: number): void {
  rows[TABLE_WIDTH * k] += volume;
  rows[TABLE_WIDTH * k + 1] += volume * x;
  rows[TABLE_WIDTH * k + 2] += volume * y;
  rows[TABLE_WIDTH * k + 3] += volume * z;
}
