import { expect, it } from 'vitest';
import { type PlanRun, runPlan } from '../../../src/core/computePlan.ts';
import { PlanError } from '../../../src/core/errors.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { LEAVABLE_REPAIRS, type LeavableRepair, leftCode } from '../../../src/core/plan/leavableRepairs.ts';
import type { ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { keptWhere } from '../../fixtures/dirty/faceDefects.ts';
import { leaveTable, roundRim } from '../../fixtures/dirty/shapeDefects.ts';
import { shapePlan } from '../../fixtures/planShape.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { joined, moved, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';
import { layerVolume, type SteinerSums, steinerOf } from '../../published/convexSteiner.ts';

/**
 * Repairs that the plan leaves undone, each on a half ball that asks for it: told with the same count, marked, and the shell within its
 * bound of what then stands there. Bodies apart: sums of Steiner's formula (convexSteiner).
 */
const COAT_MM = 3;
const half = openHalfSphere(20, 8);
const BALL = octasphere(1.2, 3);
const FLAKE = octasphere(1.9, 4);
const apart = (mesh: TriMesh, heightMm: number): TriMesh => joined(half, moved(mesh, [40, 0, heightMm]));

/** A level square of 2 mm: two flat faces, all its edges open. */
const SCRAP: TriMesh = {
  positions: Float64Array.of(0, 0, 0, 2, 0, 0, 2, 2, 0, 0, 2, 0),
  indices: Uint32Array.of(0, 1, 2, 0, 2, 3),
};
/** Of the square as a convex body without height: both sides, and an outer angle of pi at every edge. Own arithmetic. */
const SCRAP_SUMS: SteinerSums = { areaMm2: 8, meanMm: (8 * Math.PI) / 2, gauss: 4 * Math.PI };

const shellOf = (...bodies: SteinerSums[]): number =>
  bodies.reduce((sum, body) => sum + layerVolume(body, COAT_MM), 0);
const ALONE = shellOf(steinerOf(half));

/** The half ball whose rim goes up and down by 0.03 mm. */
function unevenRim(): TriMesh {
  const positions = half.positions.slice();
  roundRim(half).forEach((v, n) => {
    positions[3 * v + 2] += 0.03 * Math.sin(3 * n);
  });
  return { positions, indices: half.indices };
}

const isOffBoard = (t: number): boolean =>
  [0, 1, 2].every((k) => half.positions[3 * half.indices[3 * t + k] + 2] > 0);

interface Case {
  readonly what: string;
  readonly repair: LeavableRepair;
  readonly mesh: TriMesh;
  readonly scan?: Partial<ScanPlan>;
  readonly count: number;
  /** Of the shell with the repair left undone, mm3; null: as with the repair, both bounds together. */
  readonly trueMm3: number | null;
  /** Nobody knows what is there: no volume of the rubber, and a wider bound. */
  readonly isUnsure?: boolean;
  readonly isUnmarked?: boolean;
}

const cases: readonly Case[] = [
  {
    what: 'a ball beside it',
    repair: 'crumbs-dropped',
    mesh: apart(BALL, 10),
    count: 1,
    trueMm3: ALONE + shellOf(steinerOf(BALL)),
  },
  {
    what: 'a flat scrap beside it',
    repair: 'crumbs-dropped',
    mesh: apart(SCRAP, 10),
    count: 1,
    trueMm3: ALONE + shellOf(SCRAP_SUMS),
  },
  {
    what: 'the half of a ball that is below the board',
    repair: 'flakes-dropped',
    mesh: apart(FLAKE, 0),
    count: 1,
    trueMm3: ALONE + shellOf(steinerOf(openHalfSphere(1.9, 4))),
  },
  {
    what: 'a ball inside it',
    repair: 'inner-parts-dropped',
    mesh: joined(half, moved(octasphere(6, 3), [0, 0, 9])),
    count: 1,
    trueMm3: ALONE,
    isUnsure: true,
  },
  {
    what: 'two holes',
    repair: 'holes-filled',
    mesh: keptWhere(half, (t) => t !== 3 && t !== 40),
    count: 2,
    trueMm3: ALONE,
    isUnsure: true,
  },
  {
    what: 'a foot above the board',
    repair: 'skirt-added',
    mesh: keptWhere(half, isOffBoard),
    scan: { board: 0 },
    count: 1,
    trueMm3: ALONE,
    isUnsure: true,
  },
  {
    what: 'a rim not quite level',
    repair: 'base-levelled',
    mesh: unevenRim(),
    // The board lies at the middle of the rim's heights, so that every one of its vertices is off it.
    count: roundRim(half).length,
    trueMm3: null,
    isUnmarked: true,
  },
  {
    what: 'a cut of the crop',
    repair: 'cut-closed',
    mesh: half,
    scan: { crops: [{ normal: [0, 0, 1], offsetMm: 15 }] },
    count: 1,
    trueMm3: null,
    isUnsure: true,
  },
];

const run = (mesh: TriMesh, scan: Partial<ScanPlan>, pieceCount = 1): Promise<PlanRun> =>
  runPlan(
    shapePlan({
      coatsMm: [COAT_MM],
      scan: { board: 'auto', crumbShare: 0.01, ...scan },
      parting: { pieceCount },
    }),
    mesh,
    { resolution: 1.5, until: 'amounts' },
  );

const countOf = ({ scan }: PlanRun, code: string): number | undefined =>
  [...scan.report.repairs, ...scan.report.warnings].find((note) => note.code === code)?.count;
const marksOf = ({ scan }: PlanRun, code: string): number =>
  scan.marks.filter((mark) => mark.code === code).length;

it.each(cases)('$repair left, $what: told, marked, within the bound', async (one) => {
  const { repair, mesh, scan, count, trueMm3 } = one;
  const mended = await run(mesh, scan ?? {});
  const left = await run(mesh, { ...scan, leave: [repair] });
  expect([countOf(mended, repair), countOf(mended, leftCode(repair))]).toEqual([count, undefined]);
  expect([countOf(left, repair), countOf(left, leftCode(repair))]).toEqual([undefined, count]);
  expect(marksOf(left, repair)).toBe(0);
  expect(marksOf(left, leftCode(repair)) > 0).toBe(one.isUnmarked !== true);

  const { volumeMm3, volumeErrorMm3 } = left.result.shell;
  const before = mended.result.shell;
  const [wantedMm3, slackMm3] = trueMm3 === null ? [before.volumeMm3, before.volumeErrorMm3] : [trueMm3, 0];
  expect(Math.abs(volumeMm3 - wantedMm3)).toBeLessThan(volumeErrorMm3 + slackMm3);
  expect(left.result.rubber.volumeMm3 === null).toBe(one.isUnsure === true);
  if (one.isUnsure) expect(volumeErrorMm3).toBeGreaterThan(1.5 * before.volumeErrorMm3);
  else expect(volumeErrorMm3).toBeLessThan(0.05 * volumeMm3);
});

it('table-cut-away left: the board is set by the edge of the scan, as by hand, and the table is told and marked', async () => {
  const { mesh, made } = leaveTable(roundRim, 0)(half, seededRandom(1));
  const left = await run(mesh, { leave: ['table-cut-away'] });
  expect(countOf(left, 'table-cut-away')).toBeUndefined();
  expect(countOf(left, 'left-table-cut-away')).toBe(made['table-cut-away']);
  expect(marksOf(left, 'left-table-cut-away')).toBeGreaterThan(0);
  const byHand = await run(mesh, { board: -left.scan.fileToBoard[11] });
  expect(left.result.shell.volumeMm3).toBe(byHand.result.shell.volumeMm3);
});

it('crumbs left stay where flakes of the cut at the board go', async () => {
  const mesh = joined(apart(BALL, 10), moved(FLAKE, [-40, 0, 0]));
  const { scan } = await run(mesh, { leave: ['crumbs-dropped'] });
  const codes = [...scan.report.repairs, ...scan.report.warnings].map(({ code, count }) => [code, count]);
  expect(codes).toContainEqual(['left-crumbs-dropped', 1]);
  expect(codes).toContainEqual(['flakes-dropped', 1]);
});

it('a part left inside makes no side of the body uncertain, nor do small holes beside it', async () => {
  const holed = keptWhere(half, (t) => t !== 3);
  const mesh = joined(holed, moved(octasphere(8, 4), [0, 0, 9]));
  const { scan } = await run(mesh, { leave: ['inner-parts-dropped', 'holes-filled'] });
  const codes = scan.report.warnings.map(({ code }) => code);
  expect(codes).toEqual(['left-inner-parts-dropped', 'left-holes-filled']);
});

it('nothing is said of a repair that the scan does not call for', async () => {
  const { scan } = await run(half, { leave: LEAVABLE_REPAIRS });
  expect(scan.report.warnings.filter(({ code }) => code.startsWith('left-'))).toEqual([]);
});

it('a parting line that would cross what is left open is refused with why', async () => {
  const crops = [{ normal: [0, 0, 1], offsetMm: 15 }] as const;
  const reason = await run(half, { crops, leave: ['cut-closed'] }, 2).catch((error: unknown) => error);
  expect(reason).toBeInstanceOf(PlanError);
  expect((reason as PlanError).message).toContain('hole');
});
