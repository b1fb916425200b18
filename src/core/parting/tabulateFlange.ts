import type { Checkpoint } from '../checkpoint.ts';
import { BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { HALF_DIAGONAL_CELLS } from '../field/buildBandField.ts';
import { type CoatTable, sumRunning, TABLE_WIDTH } from '../field/CoatTable.ts';
import { closestOnTriangle } from '../field/closestOnTriangle.ts';
import { cubeCut, cubeReach } from '../field/cubeCut.ts';
import { growBand } from '../field/growBand.ts';
import { SEED_REACH_CELLS, seedBand } from '../field/seedBand.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import { buildVertexRings } from '../mesh/buildVertexRings.ts';
import { type Box, boundingBox, vertCount } from '../mesh/TriMesh.ts';
import type { OutsideDistance } from '../spatial/OutsideDistance.ts';
import type { PartingWall } from './buildWall.ts';

/** Knots a cell edge of the flange's own grid. */
const KNOTS_PER_CELL = 2;

/**
 * For each region the volume within `thicknessMm` of the parting face on the region's side, as a table over the distance
 * from the rubber: flange between two distances = difference of two rows.
 *
 * The grid lies on a lattice fixed to the scan, so that `distances`, which remembers what it was asked, serves again when
 * a line moves. Exact for flat walls on flat rubber; otherwise second order in the cell.
 *
 * @param reachMm largest distance that will be asked for.
 */
export async function tabulateFlange(
  source: BandSource,
  distances: OutsideDistance,
  wall: PartingWall,
  regionCount: number,
  thicknessMm: number,
  reachMm: number,
  cellMm: number,
  cp: Checkpoint,
): Promise<CoatTable[]> {
  const knotMm = cellMm / KNOTS_PER_CELL;
  const knotCount = Math.ceil(reachMm / knotMm) + 1;
  const sums = Array.from({ length: regionCount }, () => new Float64Array(knotCount * TABLE_WIDTH));
  if (wall.left.length > 0) {
    const grid = await buildWallGrid(
      source,
      wall,
      thicknessMm,
      cellMm,
      cp.within(0, 0.4, 'setting up the flange'),
    );
    await addCells(
      grid,
      distances,
      wall,
      thicknessMm,
      knotMm,
      knotCount,
      sums,
      cp.within(0.4, 1, 'measuring the flange'),
    );
  }
  for (const sum of sums) sumRunning(sum);
  return sums.map((rows) => ({ knotMm, knotCount, rows }));
}

/** Unsigned distance to the parting face, as far as the flange reaches. */
async function buildWallGrid(
  source: BandSource,
  wall: PartingWall,
  thicknessMm: number,
  cellMm: number,
  cp: Checkpoint,
): Promise<BandGrid> {
  const reach = Math.max(thicknessMm + HALF_DIAGONAL_CELLS * cellMm, SEED_REACH_CELLS * cellMm);
  const box = boundingBox(wall.mesh);
  const wallSource: BandSource = {
    mesh: wall.mesh,
    twins: buildTwins(wall.mesh.indices).twins,
    rings: buildVertexRings(wall.mesh.indices, vertCount(wall.mesh)),
    isSurface: new Uint8Array(wall.left.length).fill(1),
    box,
    standsOnBoard: source.standsOnBoard,
    winding: source.winding,
  };
  const origin = latticeOrigin(source, box, reach, cellMm);
  const grid = new BandGrid(origin, cellMm, [
    Math.ceil((box.max[0] + reach - origin[0]) / cellMm) + 1,
    Math.ceil((box.max[1] + reach - origin[1]) / cellMm) + 1,
    Math.ceil((box.max[2] + reach - origin[2]) / cellMm) + 1,
  ]);
  await seedBand(grid, wallSource, cp.within(0, 0.5, 'setting up the flange'));
  await growBand(grid, wallSource, reach, true, cp.within(0.5, 1, 'setting up the flange'));
  return grid;
}

/** Lower corner of the box, moved down to a lattice that hangs on the scan's own box and has the board on a cell face. */
function latticeOrigin(
  source: BandSource,
  box: Box,
  reach: number,
  cellMm: number,
): [number, number, number] {
  const down = (at: number, anchor: number): number =>
    anchor + Math.floor((at - reach - anchor) / cellMm) * cellMm;
  return [
    down(box.min[0], source.box.min[0]),
    down(box.min[1], source.box.min[1]),
    source.standsOnBoard ? 0 : down(box.min[2], source.box.min[2]),
  ];
}

async function addCells(
  grid: BandGrid,
  distances: OutsideDistance,
  wall: PartingWall,
  thicknessMm: number,
  knotMm: number,
  knotCount: number,
  sums: readonly Float64Array[],
  cp: Checkpoint,
): Promise<void> {
  const h = grid.cellMm;
  const cellVolume = h ** 3;
  const corner = new Int32Array(3);
  const foot = new Float64Array(4);
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
      const n = wallNormal(wall, tri);
      const along = (x - foot[0]) * n[0] + (y - foot[1]) * n[1] + (z - foot[2]) * n[2];
      // Growing away from the wall on the cell's own side.
      let gx = along < 0 ? -n[0] : n[0];
      let gy = along < 0 ? -n[1] : n[1];
      let gz = along < 0 ? -n[2] : n[2];
      if (wallDistance > 1e-6 * h && Math.abs(along) < 0.999 * wallDistance) {
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
      const d = distances.at(x, y, z);
      if (d.phi < -HALF_DIAGONAL_CELLS * h) continue;
      const reach = cubeReach(d.gx, d.gy, d.gz) * h;
      const first = Math.max(0, Math.ceil((d.phi - reach) / knotMm));
      const full = Math.max(first, Math.ceil((d.phi + reach) / knotMm));
      let before = 0;
      for (let k = first; k <= full && k < knotCount; k++) {
        const now = k < full ? cubeCut(d.gx, d.gy, d.gz, (k * knotMm - d.phi) / h) : 1;
        const volume = (now - before) * cellVolume;
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

/** Unit normal of a wall triangle: to the right-hand region. */
function wallNormal(wall: PartingWall, tri: number): readonly [number, number, number] {
  const { positions: p, indices } = wall.mesh;
  const a = indices[3 * tri] * 3;
  const b = indices[3 * tri + 1] * 3;
  const c = indices[3 * tri + 2] * 3;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const length = Math.hypot(nx, ny, nz) || 1;
  return [nx / length, ny / length, nz / length];
}
