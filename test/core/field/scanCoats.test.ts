import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { BRICK_CELLS, UNREACHED } from '../../../src/core/field/BandGrid.ts';
import { makeBandSource, surfaceOnly } from '../../../src/core/field/BandSource.ts';
import { buildBandField } from '../../../src/core/field/buildBandField.ts';
import { between, sumRunning, TABLE_WIDTH } from '../../../src/core/field/CoatTable.ts';
import { tabulateBricks } from '../../../src/core/field/tabulateBricks.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { newClosestPoint, SurfaceTree } from '../../../src/core/spatial/SurfaceTree.ts';
import { openMesh } from '../../../src/io/openMesh.ts';

const LEVELS_MM = [0, 1.5, 3.5, 6.5, 9.5];
/** Asked of the fast field on scans: the share by which a coat may differ from that of exact nearest points. */
const COAT_SHARE = 5e-4;

/**
 * Real scans: the same cells, cut in the same way, but nearest points by the bounding-volume tree and sides by the winding
 * number. Levels are knots of the table, so that nothing is read between them.
 */
test.each([
  ['goblet.stl', 1],
  ['demosthenes.ply', 40],
  ['holes-binary-solid.stl', 1],
] as const)('%s, times %d: every coat equals that of exact nearest points', async (name, scale) => {
  const cellMm = 1.5;
  const bandMm = 9.5;
  const file = new Uint8Array(readFileSync(new URL(`../../fixtures/${name}`, import.meta.url)));
  const { mesh } = await openMesh(file, name);
  const sized = { positions: mesh.positions.map((x) => x * scale), indices: mesh.indices };
  const cp = new Checkpoint();
  const scan = await prepareScan(sized, newPlan(name).scan, [], cp, 'mm');
  const source = makeBandSource(scan);
  const grid = await buildBandField(source, cellMm, bandMm, scan.volumeMm3 !== null, cp);
  const knotCount = 20;
  const knotMm = bandMm / (knotCount - 1);
  const coats = async (): Promise<number[]> => {
    const tables = await tabulateBricks(grid, source, knotMm, knotCount, cp);
    const rows = new Float64Array(knotCount * TABLE_WIDTH);
    for (let n = 0; n < tables.rows.length; n++) rows[n % rows.length] += tables.rows[n];
    sumRunning(rows);
    const table = { knotMm, knotCount, rows };
    return LEVELS_MM.slice(1).map((to, n) => between(table, LEVELS_MM[n], to)[0]);
  };
  const fast = await coats();
  const tree = new SurfaceTree(surfaceOnly(scan));
  const ids = Array.from(scan.isSurface.keys()).filter((t) => scan.isSurface[t] === 1);
  const hit = newClosestPoint();
  const corner = new Int32Array(3);
  for (let cell = 0; cell < grid.brickCount * BRICK_CELLS; cell++) {
    if (grid.phi[cell] === UNREACHED) continue;
    grid.brickCorner(Math.floor(cell / BRICK_CELLS), corner);
    const at = [cell & 7, (cell >> 3) & 7, (cell >> 6) & 7].map(
      (local, k) => grid.origin[k] + (corner[k] + local + 0.5) * cellMm,
    ) as [number, number, number];
    tree.closestPoint(...at, hit);
    // Farther out than a cell no level of the table tells the sides apart; there they are the wave's own.
    const isInside = hit.distance < cellMm ? source.winding.windingNumber(...at) > 0.5 : grid.phi[cell] < 0;
    grid.phi[cell] = isInside ? -hit.distance : hit.distance;
    grid.tri[cell] = ids[hit.tri];
  }
  const exact = await coats();
  exact.forEach((volume, n) => {
    const share = Math.abs(fast[n] / volume - 1);
    expect(share, `coat ${n + 1}: ${fast[n]} for ${volume}`).toBeLessThan(COAT_SHARE);
  });
});
