import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { runPlan } from '../../src/core/computePlan.ts';
import { between } from '../../src/core/field/CoatTable.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import type { PlanResult } from '../../src/core/PlanResult.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { estimateTables } from '../../src/core/shell/estimateTables.ts';
import { sampleReach } from '../../src/core/shell/sampleReach.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { shapePlan } from '../fixtures/planShape.ts';
import { box, octasphere, openHalfSphere } from '../fixtures/shapes.ts';
import { preparedFromMesh } from './parting/preparedFromMesh.ts';

/** The estimate of a whole closed body without a board, and its doubt, mm3 within `mm`. */
async function estimateOf(
  mesh: TriMesh,
  areaMm2: number,
  mm: number,
): Promise<{ volumeMm3: number; doubtMm3: number }> {
  const surface = new SurfaceContext(preparedFromMesh(mesh, false));
  const samples = await sampleReach(surface, 1.2 * mm, new Checkpoint());
  const wedgesMm = [samples.wedgeMm.reduce((sum, x) => sum + x, 0)];
  const { tables, doubted } = estimateTables(
    samples,
    [areaMm2],
    wedgesMm,
    () => 0,
    () => true,
  );
  const volumeMm3 = between(tables[0], 0, mm)[0];
  return { volumeMm3, doubtMm3: between(doubted[0], 0, mm)[0] - volumeMm3 };
}

describe('the estimate from the surface alone', () => {
  // Steiner 1840: A t + pi (a + b + c) t^2 + 4 pi t^3 / 3 round a box.
  it('round a box is Steiner\u2019s sum', async () => {
    const [a, b, c, t] = [40, 30, 20, 10];
    const areaMm2 = 2 * (a * b + b * c + c * a);
    const exact = areaMm2 * t + Math.PI * (a + b + c) * t ** 2 + (4 / 3) * Math.PI * t ** 3;
    const { volumeMm3, doubtMm3 } = await estimateOf(box(a, b, c), areaMm2, t);
    expect(Math.abs(volumeMm3 / exact - 1)).toBeLessThan(0.01);
    expect(Math.abs(volumeMm3 - exact)).toBeLessThan(doubtMm3);
  });

  // Two slabs 6 mm apart: between them there is room for 3 mm on either side, however thick the coat. Own arithmetic; the
  // outside of the gap's mouth, where the two roundings meet, is in the doubt.
  it('parts that face each other share the room between them', async () => {
    const [a, b, c, gap, t] = [80, 80, 10, 6, 9];
    const lower = box(a, b, c);
    const raised = lower.positions.map((x, i) => (i % 3 === 2 ? x + c + gap : x));
    const offset = lower.positions.length / 3;
    const both: TriMesh = {
      positions: Float64Array.from([...lower.positions, ...raised]),
      indices: Uint32Array.from([...lower.indices, ...Array.from(lower.indices, (i) => i + offset)]),
    };
    const areaMm2 = 4 * (a * b + b * c + c * a);
    const flat = 2 * a * b * t + a * b * gap + 2 * 2 * (b * c + c * a) * t;
    const { volumeMm3, doubtMm3 } = await estimateOf(both, areaMm2, t);
    // Roundings: between half of the outer edges' (the inner ones meet in the gap) and all of them.
    const least = flat + (Math.PI / 4) * t ** 2 * (4 * (a + b) + 4 * 2 * c);
    expect(volumeMm3 + doubtMm3).toBeGreaterThan(least);
    expect(volumeMm3 - doubtMm3).toBeLessThan(least + (Math.PI / 4) * t ** 2 * 4 * (a + b));
    // Counted by area and edges alone it would be more by the half of the gap's coats that has no room.
    expect(volumeMm3).toBeLessThan(areaMm2 * t);
  });
});

describe('the first numbers of a plan', () => {
  const roughAndTrue = async (
    mesh: TriMesh,
    plan: PlanDocument,
  ): Promise<{ roughs: PlanResult[]; rough: PlanResult; fine: PlanResult; order: string[] }> => {
    const roughs: PlanResult[] = [];
    const order: string[] = [];
    const run = await runPlan(plan, mesh, {
      until: 'amounts',
      onRough: ({ result }) => {
        roughs.push(result);
        order.push('rough');
      },
      onEarlier: () => {
        order.push('earlier');
      },
    });
    const rough = roughs.at(-1);
    if (rough === undefined) throw new Error('No estimate was told.');
    return { roughs, rough, fine: run.result, order };
  };

  const expectCovered = ({ rough, fine }: { rough: PlanResult; fine: PlanResult }): void => {
    expect(rough.preliminary).toBe(true);
    expect(rough.pieces.map((piece) => piece.name)).toEqual(fine.pieces.map((piece) => piece.name));
    expect(Math.abs(rough.shell.massG - fine.shell.massG)).toBeLessThan(rough.shell.massErrorG);
    for (const [n, piece] of rough.pieces.entries()) {
      const truth = fine.pieces[n];
      const off = (a: { volumeMm3: number; volumeErrorMm3: number }, b: { volumeMm3: number }): number =>
        Math.abs(a.volumeMm3 - b.volumeMm3) / a.volumeErrorMm3;
      for (const [k, coat] of piece.coats.entries()) expect(off(coat, truth.coats[k])).toBeLessThan(1);
      if (truth.flange.volumeMm3 > 0) expect(off(piece.flange, truth.flange)).toBeLessThan(1);
    }
    // A bound so wide that it says nothing is no answer.
    expect(rough.shell.massErrorG).toBeLessThan(0.35 * rough.shell.massG);
  };

  it('come before any field, for the whole and then for its pieces, and cover the truth on a half sphere', async () => {
    const plan = shapePlan({
      coatsMm: [2, 3, 4],
      scan: { board: 0 },
      parting: { pieceCount: 2, pullAzimuthsDeg: [30] },
      flange: { widthMm: 30, thicknessMm: 6 },
    });
    const both = await roughAndTrue(openHalfSphere(40, 16), plan);
    expect(both.order.slice(0, 2)).toEqual(['rough', 'rough']);
    expect(both.order.filter((word) => word === 'rough')).toHaveLength(2);
    expectCovered(both);
    // Before its first lines are found the whole has neither pieces nor flange.
    const [undivided] = both.roughs;
    expect(undivided.pieces).toHaveLength(1);
    expect(undivided.partingLines).toEqual([]);
    const coatsMm3 = (result: PlanResult, n: number): number =>
      result.pieces.reduce((sum, piece) => sum + piece.coats[n].volumeMm3, 0);
    for (const [n, coat] of undivided.pieces[0].coats.entries()) {
      expect(Math.abs(coat.volumeMm3 - coatsMm3(both.fine, n))).toBeLessThan(coat.volumeErrorMm3);
    }
  });

  it('come once where the lines are drawn', async () => {
    const halfWay = Math.SQRT1_2 * 40;
    const { order } = await roughAndTrue(
      openHalfSphere(40, 16),
      shapePlan({
        coatsMm: [3],
        scan: { board: 0 },
        parting: {
          lines: [
            {
              points: [
                [-40, 0, 0],
                [-halfWay, 0, halfWay],
                [0, 0, 40],
                [halfWay, 0, halfWay],
                [40, 0, 0],
              ],
              id: 'over',
              closed: false,
            },
          ],
        },
      }),
    );
    expect(order.filter((word) => word === 'rough')).toHaveLength(1);
  });

  it('cover the truth on a ball over its board, keep-clear areas left out, over a bare pattern', async () => {
    const plan = shapePlan({
      coatsMm: [3, 4],
      scan: {
        board: 0,
        is: 'pattern',
        rubberMm: 4,
        keepClear: [{ name: 'key', radiusMm: 12, dabsMm: [[30, 0, 30]] }],
      },
      parting: { pieceCount: 2, pullAzimuthsDeg: [0] },
    });
    const ball = octasphere(30, 16);
    const positions = ball.positions.map((x, i) => (i % 3 === 2 ? x + 28 : x));
    expectCovered(await roughAndTrue({ ...ball, positions }, plan));
  });

  for (const name of ['goblet.stl', 'holes-binary-solid.stl']) {
    it(`cover the truth on ${name}`, async () => {
      const bytes = readFileSync(new URL(`../fixtures/${name}`, import.meta.url));
      const { mesh } = await openMesh(new Uint8Array(bytes), name);
      expectCovered(await roughAndTrue(mesh, newPlan(name)));
    }, 180_000);
  }
});
