import { beforeAll, describe, expect, it } from 'vitest';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import type { PlanResult } from '../../src/core/PlanResult.ts';
import type { LengthUnit, ScanPlan } from '../../src/core/plan/PlanDocument.ts';
import { planShape } from '../fixtures/planShape.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { box, moved, octasphere, scaled, turned } from '../fixtures/shapes.ts';
import { ROUNDING_SHARE, SINGLE_SHARE, TIE_SHARE } from '../tolerances.ts';

/**
 * Metamorphic: T. Y. Chen, S. C. Cheung, S. M. Yiu, "Metamorphic testing", HKUST-CS98-01, 1998: what must not change the
 * answer does not. Volumes do not depend on place, pose about the upright, mirror sense, order or winding (isometries).
 */

/** A body with hollows and ridges, no symmetry. */
const bumpy = (): TriMesh => {
  const mesh = octasphere(20, 14);
  const positions = mesh.positions.slice();
  for (let v = 0; v < positions.length; v += 3) {
    const [x, y, z] = [positions[v], positions[v + 1], positions[v + 2]];
    const bump = 1 + 0.2 * Math.sin(x / 7 + 1) * Math.cos(y / 6) + 0.15 * Math.sin(z / 5 + x / 9);
    for (let k = 0; k < 3; k++) positions[v + k] *= bump;
  }
  return { positions, indices: mesh.indices };
};

const plan = (mesh: TriMesh, scan: Partial<ScanPlan> = {}): Promise<PlanResult> =>
  planShape(mesh, { coatsMm: [2, 3], scan: { board: 0, ...scan } }, { resolution: 1.3 });

const reordered = (mesh: TriMesh, seed: number): TriMesh => {
  const random = seededRandom(seed);
  const shuffled = (count: number): number[] => {
    const order = Array.from({ length: count }, (_, n) => n);
    for (let n = count - 1; n > 0; n--) {
      const m = Math.floor(random() * (n + 1));
      [order[n], order[m]] = [order[m], order[n]];
    }
    return order;
  };
  const place = shuffled(mesh.positions.length / 3);
  const positions = new Float64Array(mesh.positions.length);
  place.forEach((to, from) => {
    positions.set(mesh.positions.subarray(3 * from, 3 * from + 3), 3 * to);
  });
  const indices: number[] = [];
  for (const t of shuffled(mesh.indices.length / 3)) {
    const turn = Math.floor(3 * random());
    for (let k = 0; k < 3; k++) indices.push(place[mesh.indices[3 * t + ((k + turn) % 3)]]);
  }
  return { positions, indices: Uint32Array.from(indices) };
};

const flipped = (mesh: TriMesh, share: number): TriMesh => {
  const random = seededRandom(5);
  const indices = mesh.indices.slice();
  for (let t = 0; t < indices.length; t += 3) {
    if (random() >= share) continue;
    [indices[t + 1], indices[t + 2]] = [indices[t + 2], indices[t + 1]];
  }
  return { positions: mesh.positions, indices };
};

describe('the answer does not change when the body', () => {
  let base: PlanResult;
  beforeAll(async () => {
    base = await plan(bumpy());
  });

  /** Each coat and the whole agree to both bounds together, as two answers about one truth must. */
  const expectWithinBounds = (other: PlanResult): void => {
    base.pieces[0].coats.forEach((coat, n) => {
      const changed = other.pieces[0].coats[n];
      expect(Math.abs(changed.volumeMm3 - coat.volumeMm3)).toBeLessThanOrEqual(
        changed.volumeErrorMm3 + coat.volumeErrorMm3,
      );
    });
    expect(Math.abs(other.shell.volumeMm3 / base.shell.volumeMm3 - 1)).toBeLessThan(5e-3);
    expect(Math.abs(other.rubber.areaMm2 / base.rubber.areaMm2 - 1)).toBeLessThan(SINGLE_SHARE);
  };
  const expectSame = (other: PlanResult, share: number): void => {
    expect(Math.abs(other.shell.volumeMm3 / base.shell.volumeMm3 - 1)).toBeLessThan(share);
    base.pieces[0].coats.forEach((coat, n) => {
      expect(Math.abs(other.pieces[0].coats[n].volumeMm3 / coat.volumeMm3 - 1)).toBeLessThan(share);
    });
  };

  it('is moved along the board: the cells move along', async () => {
    expectSame(await plan(moved(bumpy(), [512.25, -1031.5, 0])), TIE_SHARE);
  });

  it('is moved in height, with the board', async () => {
    expectSame(await plan(moved(bumpy(), [0, 0, 77]), { board: 77 }), TIE_SHARE);
  });

  it.each([37, 90, 211])('is turned by %i degrees about the upright', async (degrees) => {
    expectWithinBounds(await plan(turned(bumpy(), [0, 0, 1], (degrees * Math.PI) / 180)));
  });

  it('is turned in the plan', async () => {
    expectWithinBounds(await plan(bumpy(), { turnDeg: 123 }));
  });

  it('lies on its side in the file and the plan says which axis is up', async () => {
    // x y z -> y z x: the upright becomes the file's y.
    const mesh = bumpy();
    const positions = mesh.positions.map((_, i, all) => all[i - (i % 3) + ((i + 1) % 3)]);
    expectWithinBounds(await plan({ positions, indices: mesh.indices }, { up: 'y' }));
  });

  it.each([1e-3, 1e3])('is scaled by %f in the file and back in the plan', async (by) => {
    expectSame(await plan(scaled(bumpy(), [by, by, by]), { scale: 1 / by }), TIE_SHARE);
  });

  it('is mirrored', async () => {
    expectWithinBounds(await plan(scaled(bumpy(), [-1, 1, 1])));
  });

  it('has its vertices and triangles in another order', async () => {
    expectSame(await plan(reordered(bumpy(), 3)), TIE_SHARE);
  });

  it('is wound inside out, or in part', async () => {
    expectSame(await plan(flipped(bumpy(), 1)), TIE_SHARE);
    expectSame(await plan(flipped(bumpy(), 0.3)), TIE_SHARE);
  });
});

describe('units: exact factors of NIST SP 811 (2008), appendix B.8', () => {
  it.each<[LengthUnit, number]>([
    ['in', 25.4],
    ['ft', 304.8],
    ['cm', 10],
    ['m', 1000],
  ])('a box given in %s is the box in mm', async (unit, mmPerUnit) => {
    const size = [203.2, 152.4, 101.6] as const;
    const shape = { coatsMm: [9.525] };
    const mm = await planShape(box(...size), shape, { resolution: 6 });
    const other = await planShape(
      scaled(box(...size), [1 / mmPerUnit, 1 / mmPerUnit, 1 / mmPerUnit]),
      { ...shape, scan: { unit } },
      { resolution: 6 },
    );
    expect(other.scan.sizeMm[0]).toBeCloseTo(203.2, 9);
    // Corners differ by rounding of the division; distances are single precision.
    expect(Math.abs(other.shell.volumeMm3 / mm.shell.volumeMm3 - 1)).toBeLessThan(SINGLE_SHARE);
    expect(Math.abs((other.rubber.volumeMm3 ?? 0) / (203.2 * 152.4 * 101.6) - 1)).toBeLessThan(
      ROUNDING_SHARE,
    );
    expect(Math.abs(other.shell.massG / mm.shell.massG - 1)).toBeLessThan(SINGLE_SHARE);
  });
});
