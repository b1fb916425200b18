import { expect, it } from 'vitest';
import { computePlan } from '../../src/core/computePlan.ts';
import { MeshError, PlanError } from '../../src/core/errors.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { LengthUnit } from '../../src/core/plan/PlanDocument.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { octasphere } from '../fixtures/shapes.ts';
import { encode, soupOf, stlOf } from './sampleFiles.ts';

/** Files that a reader takes, since each number in them is sound, and that no shell can be planned over. */
const FLAT: readonly (readonly number[])[] = [
  [0, 0, 0, 100, 0, 0, 100, 100, 0],
  [0, 0, 0, 100, 100, 0, 0, 100, 0],
];
const SPHERE = soupOf(octasphere(100, 4));
const times = (factor: number, soup: readonly (readonly number[])[]): number[][] =>
  soup.map((tri) => tri.map((x) => factor * x));

const FILES: readonly (readonly [string, Uint8Array, LengthUnit | 'auto'])[] = [
  ['one triangle', stlOf(FLAT.slice(0, 1)), 'auto'],
  ['two triangles in a plane', stlOf(FLAT), 'auto'],
  [
    'a thousand triangles in a plane',
    stlOf(SPHERE.map((tri) => tri.map((x, i) => (i % 3 === 2 ? 0 : x)))),
    'auto',
  ],
  ['triangles without area', stlOf(SPHERE.map((tri) => tri.map((x, i) => (i % 3 === 0 ? x : 0)))), 'auto'],
  [
    'one point named three times',
    encode(
      'solid x\nfacet normal 0 0 0\nouter loop\nvertex 1 1 1\nvertex 1 1 1\nvertex 1 1 1\nendloop\nendfacet\nendsolid x\n',
    ),
    'auto',
  ],
  ['a ball of 1e30', stlOf(times(1e28, SPHERE)), 'auto'],
  ['a ball of 1e30 mm', stlOf(times(1e28, SPHERE)), 'mm'],
  ['a ball of 1e-30', stlOf(times(1e-32, SPHERE)), 'auto'],
  ['a ball of 1e-30 mm', stlOf(times(1e-32, SPHERE)), 'mm'],
  ['a ball of 2 mm in cells of 1 mm', stlOf(times(0.01, SPHERE)), 'mm'],
  ['one corner at 1e30', stlOf(SPHERE.map((tri, i) => (i === 0 ? [1e30, ...tri.slice(1)] : tri))), 'mm'],
];

it.each(FILES)('%s: read, and refused with a reason, within 2 s', async (_what, bytes, unit) => {
  const { mesh } = await openMesh(bytes, 'a.stl');
  const plan = newPlan('a.stl');
  const cpuFrom = process.cpuUsage();
  const error = await computePlan({ ...plan, scan: { ...plan.scan, unit } }, mesh).then(
    () => null,
    (reason: unknown) => reason,
  );
  const { user, system } = process.cpuUsage(cpuFrom);
  expect((user + system) / 1000).toBeLessThan(2000);
  if (!(error instanceof MeshError || error instanceof PlanError))
    throw error ?? new Error('It was planned.');
  expect(error.message).toMatch(/^[\x20-\x7e\p{L}\p{P}\p{S}]{20,500}\.$/u);
});
