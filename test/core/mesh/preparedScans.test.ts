import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import type { PreparedScan } from '../../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { openMesh } from '../../../src/io/openMesh.ts';
import { expectValidScan } from '../../expectValidMesh.ts';

/** Scans made by others (test/fixtures/CREDITS.md), prepared with everything left to the tool unless said otherwise. */
const prepareFile = async (name: string, changes: Partial<ScanPlan> = {}): Promise<PreparedScan> => {
  const bytes = new Uint8Array(readFileSync(new URL(`../../fixtures/${name}`, import.meta.url)));
  const { mesh, notes } = await openMesh(bytes, name);
  const scan = await prepareScan(mesh, { ...newPlan(name).scan, ...changes }, notes, new Checkpoint());
  expectValidScan(scan);
  return scan;
};

describe('scans of others, counts as the files’ own rows in CREDITS.md tell', () => {
  it('demosthenes: open underneath, y up, no unit; stands on its foot', async () => {
    const scan = await prepareFile('demosthenes.ply');
    expect(scan.report).toMatchObject({
      triangles: 16719,
      components: 1,
      openEdges: 67,
      openLoops: 1,
      nonManifoldEdges: 0,
    });
    expect(scan.standsOnBoard).toBe(true);
    expect(scan.volumeMm3).not.toBeNull();
    // The bust is 2.69 units tall along y (min -0.492, max 2.201) and its foot's edge is uneven by 0.05.
    const perUnit = scan.report.sizeMm[2] / 2.6936;
    expect(Math.abs(scan.heightMm - scan.report.sizeMm[2])).toBeLessThan(0.06 * perUnit);
    const codes = scan.report.warnings.map((note) => note.code);
    expect(codes).toContain('unit-guessed');
    expect(scan.report.repairs.find((note) => note.code === 'up-found')?.text).toContain('along y');
  });

  it('goblet: closed, z up; the foot’s face is no part of S', async () => {
    const scan = await prepareFile('goblet.stl', { unit: 'mm' });
    expect(scan.report).toMatchObject({ triangles: 10910, components: 1, openEdges: 0, nonManifoldEdges: 0 });
    expect(scan.heightMm).toBeCloseTo(99, 0);
    expect(scan.isSurface.includes(0)).toBe(true);
    expect(scan.volumeMm3).toBeGreaterThan(0);
  });

  it('holes: 160 open edges in 14 loops are found and named', async () => {
    const scan = await prepareFile('holes-binary-solid.stl');
    expect(scan.report).toMatchObject({ triangles: 420, openEdges: 160, openLoops: 14 });
    expect(scan.report.warnings.length + scan.report.repairs.length).toBeGreaterThan(1);
  });

  it('gives the same solid in inches and in millimetres', async () => {
    const mm = await prepareFile('goblet.stl', { unit: 'mm', up: 'z' });
    const inch = await prepareFile('goblet.stl', { unit: 'in', up: 'z', fillHolesToMm: 60 * 25.4 });
    const ratio = (inch.volumeMm3 ?? 0) / (mm.volumeMm3 ?? 0) / 25.4 ** 3;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.01);
  });
});
