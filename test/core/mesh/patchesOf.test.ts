import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { patchesOf } from '../../../src/core/mesh/patchesOf.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { box, octasphere } from '../../fixtures/shapes.ts';

/** A flat square grid of n x n cells of 1, two triangles a cell: triangles 2 (n y + x) and the next. */
function flatGrid(n: number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let y = 0; y <= n; y++) for (let x = 0; x <= n; x++) positions.push(x, y, 0);
  for (let y = 0; y < n; y++) {
    for (let x = 0; x < n; x++) {
      const a = (n + 1) * y + x;
      indices.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

const lengthOf = (edges: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < edges.length; i += 6) {
    sum += Math.hypot(edges[i + 3] - edges[i], edges[i + 4] - edges[i + 1], edges[i + 5] - edges[i + 2]);
  }
  return sum;
};

describe('patchesOf', () => {
  it('makes a mark of each patch, the largest first, with its border', () => {
    // A block of 2 x 2 cells at the origin (8 triangles, girth 8), and one cell far from it (2 triangles, girth 4).
    const grid = flatGrid(8);
    const cell = (x: number, y: number): number[] => [2 * (8 * y + x), 2 * (8 * y + x) + 1];
    const marks = patchesOf('x', grid, [
      ...cell(6, 6),
      ...cell(0, 0),
      ...cell(1, 0),
      ...cell(0, 1),
      ...cell(1, 1),
    ]);
    expect(marks.map(({ faces }) => faces)).toEqual([8, 2]);
    expect(marks.map(({ tris }) => (tris?.length ?? 0) / 9)).toEqual([8, 2]);
    expect(marks.map(({ edges }) => lengthOf(edges ?? new Float64Array(0)))).toEqual([8, 4]);
    expect(Math.hypot(marks[0].points[0] - 1, marks[0].points[1] - 1)).toBeLessThan(0.75);
  });

  it('draws evenly picked faces of a large patch, and says how many it has', () => {
    const grid = flatGrid(120);
    const all = Array.from({ length: grid.indices.length / 3 }, (_, t) => t);
    const [mark, ...others] = patchesOf('x', grid, all);
    expect(others).toEqual([]);
    expect(mark.faces).toBe(28_800);
    expect((mark.tris?.length ?? 0) / 9).toBe(9600);
    expect(lengthOf(mark.edges ?? new Float64Array(0))).toBe(480);
  });

  it('gives many small patches one mark together, with a point each', () => {
    // Every second cell of every second row of 40 x 40: 400 cells that touch nowhere.
    const grid = flatGrid(40);
    const apart: number[] = [];
    for (let y = 0; y < 40; y += 2)
      for (let x = 0; x < 40; x += 2) apart.push(2 * (40 * y + x), 2 * (40 * y + x) + 1);
    const marks = patchesOf('x', grid, apart);
    expect(marks.length).toBe(60);
    expect(marks.reduce((sum, { faces }) => sum + (faces ?? 0), 0)).toBe(800);
    expect(marks.at(-1)?.points.length).toBeGreaterThan(3);
  });

  it('makes nothing of no faces', () => {
    expect(patchesOf('x', flatGrid(1), [])).toEqual([]);
  });
});

describe('what a prepared scan marks', () => {
  const prepare = (mesh: TriMesh, plan: Partial<ScanPlan> = {}) =>
    prepareScan(mesh, { ...newPlan('a').scan, unit: 'mm', up: 'z', ...plan }, [], new Checkpoint());
  const joined = (a: TriMesh, b: TriMesh, shift: readonly [number, number, number]): TriMesh => ({
    positions: Float64Array.from([...a.positions, ...b.positions.map((x, i) => x + shift[i % 3])]),
    indices: Uint32Array.from([...a.indices, ...b.indices.map((v) => v + a.positions.length / 3)]),
  });

  it('an inner wall that went, by all its faces', async () => {
    const inner = octasphere(5, 3);
    const { marks } = await prepare(joined(box(30, 30, 30), inner, [15, 15, 15]));
    const mark = marks.find(({ code }) => code === 'inner-parts-dropped');
    expect(mark?.faces).toBe(inner.indices.length / 3);
    expect(mark?.tris?.every((x) => Math.abs(x - 15) <= 5 + 1e-9)).toBe(true);
  });

  it('a face told twice, once; a fin that went; both in the frame of the board', async () => {
    const solid = box(30, 30, 30);
    const twice = {
      positions: solid.positions,
      indices: Uint32Array.from([...solid.indices, ...solid.indices.slice(0, 3)]),
    };
    const doubled = (await prepare(twice, { board: 10 })).marks.filter(
      ({ code }) => code === 'duplicate-faces-dropped',
    );
    expect(doubled.map(({ faces }) => faces)).toEqual([1]);
    const corner = [...solid.indices.slice(0, 3)].map((v) => solid.positions[3 * v + 2] - 10);
    expect([2, 5, 8].map((i) => doubled[0].tris?.[i])).toEqual(corner);

    // A face on the edge of vertices 0 and 4 (the box's upright edge at the origin) that stands off into the air.
    const fin = {
      positions: Float64Array.from([...solid.positions, -5, -5, 15]),
      indices: Uint32Array.from([...solid.indices, 0, 4, 8]),
    };
    const fins = (await prepare(fin)).marks.filter(({ code }) => code === 'fins-dropped');
    expect(fins.map(({ faces, points }) => [faces, points.length])).toEqual([[1, 3]]);
  });

  it('what lay below the board, and what a crop took away', async () => {
    const { marks, report } = await prepare(box(30, 30, 30), {
      board: 10,
      crops: [{ normal: [0, 0, 1], offsetMm: 15 }],
    });
    for (const code of ['cropped', 'clipped-at-board']) {
      const faces = marks
        .filter((mark) => mark.code === code)
        .reduce((sum, mark) => sum + (mark.faces ?? 0), 0);
      expect(faces).toBe(report.repairs.find((note) => note.code === code)?.count);
      expect(faces).toBeGreaterThan(0);
    }
  });
});
