import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { runPlan } from '../../src/core/computePlan.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { ScanPlan } from '../../src/core/plan/PlanDocument.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { box } from '../fixtures/shapes.ts';
import { enclosedVolume } from './convexSteiner.ts';
import { levelSetCoats } from './levelSetReference.ts';
import { toManifold } from './manifoldShapes.ts';

/** Two scans of others (test/fixtures/CREDITS.md), held against the general geometry library manifold-3d. */
async function readScan(name: string): Promise<TriMesh> {
  return (await openMesh(new Uint8Array(readFileSync(new URL(`../fixtures/${name}`, import.meta.url))), name))
    .mesh;
}

async function prepare(mesh: TriMesh, changes: Partial<ScanPlan>): Promise<PreparedScan> {
  return prepareScan(mesh, { ...newPlan('scan').scan, ...changes }, [], new Checkpoint());
}

/** The library takes solids only: each open loop is closed by a fan about its middle, flat where the loop is. */
function closedByFans(mesh: TriMesh): TriMesh {
  const indices = Array.from(mesh.indices);
  const edges = new Set<string>();
  for (let h = 0; h < indices.length; h++) edges.add(`${indices[h]},${indices[h % 3 === 2 ? h - 2 : h + 1]}`);
  const next = new Map<number, number>();
  for (const edge of edges) {
    const [from, to] = edge.split(',').map(Number);
    if (!edges.has(`${to},${from}`)) next.set(to, from);
  }
  const positions = Array.from(mesh.positions);
  while (next.size > 0) {
    const [start] = next.keys();
    const loop: number[] = [];
    let at: number | undefined = start;
    while (at !== undefined && next.has(at)) {
      loop.push(at);
      const to: number | undefined = next.get(at);
      next.delete(at);
      at = to;
    }
    const middle = [0, 1, 2].map((k) => loop.reduce((sum, v) => sum + positions[3 * v + k], 0) / loop.length);
    const centre = positions.push(...middle) / 3 - 1;
    loop.forEach((v, n) => {
      indices.push(v, loop[(n + 1) % loop.length], centre);
    });
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** The library stores single precision: a part in 2^24 of the largest coordinate, over the surface, many times averaged. */
const SINGLE_VOLUME_SHARE = 2e-6;

/** Edge of the lattice: a second's work. On it the library is itself good to a part in 500 (its two lattices' own word). */
const REFERENCE_EDGE_MM = 3;
const REFERENCE_SHARE = 3e-3;

describe.each([
  ['goblet.stl', { unit: 'mm', up: 'z', board: 'auto' } as const],
  ['demosthenes.ply', { unit: 'mm', up: 'y', scale: 180, board: 'auto' } as const],
])('%s', (name, changes) => {
  it('volume of the prepared scan equals that of manifold-3d', async () => {
    const scan = await prepare(await readScan(name), changes);
    const solid = await toManifold(closedByFans(scan.mesh));
    expect(solid.status()).toBe('NoError');
    expect(Math.abs((scan.volumeMm3 ?? 0) / solid.volume() - 1)).toBeLessThan(SINGLE_VOLUME_SHARE);
    solid.delete();
  });

  it('cut by an upright plane, volume and area equal those of manifold-3d’s cut', async () => {
    const mesh = await readScan(name);
    const scan = await prepare(mesh, changes);
    const xs = scan.mesh.positions.filter((_, i) => i % 3 === 0);
    const offsetMm = 0.35 * xs.reduce((a, b) => Math.max(a, b)) + 0.65 * xs.reduce((a, b) => Math.min(a, b));
    const cut = await prepare(mesh, {
      ...changes,
      crops: [{ normal: [1, 0, 0], offsetMm }],
      fillHolesToMm: 0,
      crumbShare: 0,
    });
    const solid = await toManifold(closedByFans(scan.mesh));
    // The library keeps the side to which the normal points.
    const kept = solid.trimByPlane([-1, 0, 0], -offsetMm);
    const ours = enclosedVolume(cut.mesh, [offsetMm, 0, 0]);
    expect(kept.volume()).toBeGreaterThan(0.05 * solid.volume());
    expect(Math.abs(ours / kept.volume() - 1)).toBeLessThan(5 * SINGLE_VOLUME_SHARE);
    solid.delete();
    kept.delete();
  });
});

it('the reference itself: a layer over a box on its board', async () => {
  const [a, b, c, t] = [8, 10, 12, 3];
  // Five faces, four upright edges and the four above as quarters of a cylinder, four corners as eighths of a ball.
  const exact =
    (a * b + 2 * (a + b) * c) * t +
    (Math.PI / 4) * (4 * c + 2 * (a + b)) * t ** 2 +
    ((2 * Math.PI) / 3) * t ** 3;
  const scan = await prepare(box(a, b, c), { unit: 'mm', up: 'z', board: 'auto' });
  const [layer] = await levelSetCoats(scan, [0, t], 1);
  expect(Math.abs(layer.volumeMm3 / exact - 1)).toBeLessThan(REFERENCE_SHARE);
  expect(layer.errorMm3 / exact).toBeLessThan(5 * REFERENCE_SHARE);
});

it('goblet: coats as found with the exact nearest point of every cell by two other programs, and as manifold-3d finds them', async () => {
  // 51,411 / 71,044 / 111,995 / 118,381 mm3 at 0-1.5-3.5-6.5-9.5 mm: nearest points by a bounding-volume tree at 0.5 mm,
  // board at the lowest point, z up; OpenVDB's level set agrees to 0.13 / 0.01 / 0.01 / 0.00 % (own trials before this
  // project, figures kept with the design). They are themselves good to about 3e-4.
  const mesh = await readScan('goblet.stl');
  const plan = shapePlan({ coatsMm: [1.5, 2, 3, 3], scan: { board: 'auto', up: 'z' } });
  const { result, scan } = await runPlan(plan, mesh, { resolution: 1.2, until: 'amounts' });
  const found = [51_411, 71_044, 111_995, 118_381];
  result.pieces[0].coats.forEach((coat, n) => {
    const off = Math.abs(coat.volumeMm3 - found[n]);
    expect(off, `${coat.name}: ${coat.volumeMm3}`).toBeLessThanOrEqual(coat.volumeErrorMm3 + 3e-4 * found[n]);
    expect(off / found[n]).toBeLessThan(5e-3);
  });
  // A coarse share of `npm run bench -- references`: the first two coats together, then the last two, then all.
  const referred = await levelSetCoats(scan, [0, 3.5, 9.5], REFERENCE_EDGE_MM);
  [
    [0, 1],
    [2, 3],
    [0, 1, 2, 3],
  ].forEach((span, n) => {
    const { volumeMm3, errorMm3 } = referred[n];
    const sum = (pick: 'volumeMm3' | 'volumeErrorMm3'): number =>
      span.reduce((total, coat) => total + result.pieces[0].coats[coat][pick], 0);
    const off = Math.abs(sum('volumeMm3') - volumeMm3);
    expect(off, `coats ${span}: ${volumeMm3}`).toBeLessThanOrEqual(sum('volumeErrorMm3') + errorMm3);
    expect(off / volumeMm3).toBeLessThan(REFERENCE_SHARE);
  });
});
