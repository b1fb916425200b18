import { describe, expect, test } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { prepareScan } from '../../src/core/mesh/prepareScan.ts';
import type { TriMesh, Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { setAngles, setBoardHeight, standAnew, standingOf } from '../../src/session/standAnew.ts';
import { multiply, NO_TURN, rotationOf } from '../../src/session/uprightAngles.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

/** A half sphere lying askew in its file, in inches, so that no map is trivial. */
function tiltedScan(): TriMesh {
  const dome = openHalfSphere(2, 12);
  const r = rotationOf({ up: 'y', turnDeg: 33, tiltDeg: [7, -11] });
  const positions = new Float64Array(dome.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = dome.positions.slice(i, i + 3);
    for (let k = 0; k < 3; k++) positions[i + k] = r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z + 5 * k;
  }
  return { positions, indices: dome.indices };
}

const prepared = (plan: PlanDocument) => prepareScan(tiltedScan(), plan.scan, [], new Checkpoint());

/** A point given in the file's own coordinates, in the board frame of a preparation. */
const toBoard = (f: readonly number[], [x, y, z]: Vec3): Vec3 => [
  f[0] * x + f[1] * y + f[2] * z + f[3],
  f[4] * x + f[5] * y + f[6] * z + f[7],
  f[8] * x + f[9] * y + f[10] * z + f[11],
];

const base = (): PlanDocument => {
  const plan = newPlan('dome.stl');
  return { ...plan, scan: { ...plan.scan, unit: 'in', up: 'z', board: 'none' } };
};

const withMark = (plan: PlanDocument, at: Vec3): PlanDocument => ({
  ...plan,
  scan: { ...plan.scan, keepClear: [{ name: 'Mark', radiusMm: 3, dabsMm: [at] }] },
});

/** The mark must be the same point of the file before and after: that is what "goes along" means. */
async function expectCarried(edit: (before: readonly number[]) => (plan: PlanDocument) => PlanDocument) {
  const plan = base();
  const before = await prepared(plan);
  const filePoint: Vec3 = [1.2, 0.4, 6.1];
  const next = edit(before.fileToBoard)(withMark(plan, toBoard(before.fileToBoard, filePoint)));
  const after = await prepared(next);
  const expected = toBoard(after.fileToBoard, filePoint);
  next.scan.keepClear[0].dabsMm[0].forEach((x, k) => {
    // Board heights are written to 1e-4 mm.
    expect(Math.abs(x - expected[k])).toBeLessThan(2e-4);
  });
  return { plan: next, before, after };
}

const QUARTER = rotationOf({ up: 'z', turnDeg: 0, tiltDeg: [90, 0] });
const SKEW = rotationOf({ up: 'x', turnDeg: 21, tiltDeg: [4, -35] });

describe('standAnew', () => {
  test("reads the standing from the map: its rotation is the plan's, whatever the unit", async () => {
    const plan = base();
    const standing = standingOf((await prepared(plan)).fileToBoard);
    rotationOf({ up: 'z', turnDeg: 0, tiltDeg: [0, 0] }).forEach((x, i) => {
      expect(standing.rotation[i]).toBeCloseTo(x, 12);
    });
  });

  test.each([
    ['a quarter turn', QUARTER],
    ['any turn', SKEW],
  ])('%s: what was marked on the mould is at the same spot of it afterwards', async (_, turn) => {
    const { plan, before, after } = await expectCarried((f) => standAnew(standingOf(f), turn, 12.5, false));
    expect(plan.scan.board).toBe(12.5);
    const asked = multiply(turn, standingOf(before.fileToBoard).rotation);
    standingOf(after.fileToBoard).rotation.forEach((x, i) => {
      expect(x).toBeCloseTo(asked[i], 7);
    });
  });

  test('a board to be found stays so while nothing hangs on its height, and is fixed when something does', () => {
    const found: PlanDocument = { ...base(), scan: { ...base().scan, board: 'auto' } };
    const before = { rotation: NO_TURN, boardMm: 4 };
    expect(standAnew(before, QUARTER, 7, true)(found).scan.board).toBe('auto');
    expect(standAnew(before, QUARTER, 7, true)(withMark(found, [0, 0, 1])).scan.board).toBe(7);
    expect(standAnew(before, QUARTER, 7, false)(found).scan.board).toBe(7);
  });

  test('another height of the board leaves marks where they are on the mould', async () => {
    const { plan } = await expectCarried((f) => setBoardHeight(standingOf(f), 3.25));
    expect(plan.scan.board).toBe(3.25);
  });

  test('a cut goes along: its plane holds the same points of the mould', () => {
    const plan: PlanDocument = {
      ...base(),
      scan: { ...base().scan, crops: [{ normal: [0, 0, -1], offsetMm: -5 }] },
    };
    const turned = standAnew({ rotation: NO_TURN, boardMm: 2 }, QUARTER, 10, false)(plan);
    // By hand: z = 5 above a board at 2 is z = 7 in the file. A quarter turn about x takes +z to -y, so it is y = -7.
    const [{ normal, offsetMm }] = turned.scan.crops;
    normal.forEach((x, k) => {
      expect(x).toBeCloseTo([0, 1, 0][k], 12);
    });
    expect(offsetMm).toBeCloseTo(-7, 12);
  });

  test('a turn typed in takes pulls and pull azimuths along, and writes the axis found down', () => {
    const from = base();
    const plan: PlanDocument = {
      ...from,
      scan: { ...from.scan, up: 'auto' },
      parting: {
        ...from.parting,
        pullAzimuthsDeg: [10, 190],
        pieces: [{ anchorMm: [1, 0, 3], name: 'Front', pull: [1, 0, 0] }],
      },
    };
    const standing = { rotation: rotationOf({ up: 'y', turnDeg: 0, tiltDeg: [0, 0] }), boardMm: 0 };
    const next = setAngles(standing, { turnDeg: 90 })(plan);
    expect(next.scan.up).toBe('y');
    expect(next.scan.turnDeg).toBe(90);
    expect(next.parting.pullAzimuthsDeg).toEqual([100, -80]);
    next.parting.pieces[0].anchorMm.forEach((x, k) => {
      expect(x).toBeCloseTo([0, 1, 3][k], 12);
    });
    next.parting.pieces[0].pull?.forEach((x, k) => {
      expect(x).toBeCloseTo([0, 1, 0][k], 12);
    });
  });
});
