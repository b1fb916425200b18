import { expect, test } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { makeBandSource } from '../../../src/core/field/BandSource.ts';
import { buildBandField } from '../../../src/core/field/buildBandField.ts';
import { between, sumRunning, TABLE_WIDTH } from '../../../src/core/field/CoatTable.ts';
import { tabulateBricks } from '../../../src/core/field/tabulateBricks.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import { box, octasphere, turned } from '../../fixtures/shapes.ts';
import { layerVolume, steinerOf } from '../../published/convexSteiner.ts';

const LEVELS_MM = [0, 1.5, 3.5, 6.5, 9.5];

/** Share by which each coat differs from Steiner's formula for the mesh itself, in cells of 1 mm. */
async function coatErrors(mesh: TriMesh): Promise<number[]> {
  const cp = new Checkpoint();
  const scan = await prepareScan(
    mesh,
    { ...newPlan('body.stl').scan, unit: 'mm', up: 'z', board: 'none' },
    [],
    cp,
    'mm',
  );
  const source = makeBandSource(scan);
  const bandMm = 9.5;
  const knotCount = 20;
  const knotMm = bandMm / (knotCount - 1);
  const grid = await buildBandField(source, 1, bandMm, true, cp);
  const tables = await tabulateBricks(grid, source, knotMm, knotCount, cp);
  const rows = new Float64Array(knotCount * TABLE_WIDTH);
  for (let n = 0; n < tables.rows.length; n++) rows[n % rows.length] += tables.rows[n];
  sumRunning(rows);
  const table = { knotMm, knotCount, rows };
  const sums = steinerOf(scan.mesh);
  return LEVELS_MM.slice(1).map((to, n) => {
    const exact = layerVolume(sums, to) - layerVolume(sums, LEVELS_MM[n]);
    return Math.abs(between(table, LEVELS_MM[n], to)[0] / exact - 1);
  });
}

/** A box as small as this has ten times the edges for its area that a mould has. */
test.each([
  ['square to the grid', box(40.3, 30.37, 20.21)],
  ['on its edge', turned(box(40, 30, 20), [0, 0, 1], Math.PI / 4)],
  ['in an odd pose', turned(box(40, 30, 20), [1, 2, 3], 0.7)],
])('box of 40 x 30 x 20 mm, %s: every coat within 1e-4 of Steiner', async (_, mesh) => {
  expect(Math.max(...(await coatErrors(mesh)))).toBeLessThan(1e-4);
});

test('ball of 40 mm radius: every coat within 2e-5 of Steiner', async () => {
  expect(Math.max(...(await coatErrors(octasphere(40, 45))))).toBeLessThan(2e-5);
});
