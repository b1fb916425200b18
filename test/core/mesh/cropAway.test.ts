import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { meshArea, signedVolume } from '../../../src/core/mesh/measure.ts';
import type { PreparedScan } from '../../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import { boundingBox, type TriMesh, type Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { expectValidMesh, expectValidScan } from '../../expectValidMesh.ts';
import { planShape } from '../../fixtures/planShape.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import {
  box,
  compact,
  joined,
  moved,
  octasphere,
  openHalfSphere,
  torus,
  turned,
} from '../../fixtures/shapes.ts';
import { clippedByHand } from './clippedByHand.ts';

/** Sums of some ten thousand terms in Float64, and vertices that lie up to 2e-7 of the size off the plane they are taken into. */
const ROUNDING = 2e-6;

function prepare(mesh: TriMesh, plan: Partial<ScanPlan> = {}): Promise<PreparedScan> {
  const { scan } = newPlan('shape.stl');
  const as: ScanPlan = { ...scan, unit: 'mm', up: 'z', board: 'none', crumbShare: 0, ...plan };
  return prepareScan(mesh, as, [], new Checkpoint());
}

const crop = (normal: Vec3, offsetMm: number): Partial<ScanPlan> => ({ crops: [{ normal, offsetMm }] });
const closedIn = ({ report }: PreparedScan): number =>
  report.repairs.find(({ code }) => code === 'cut-closed')?.count ?? 0;
const leftIn = ({ report }: PreparedScan): number =>
  report.warnings.find(({ code }) => code === 'cut-left-open')?.count ?? 0;
const areaOf = (scan: PreparedScan): number => meshArea(scan.mesh, scan.isSurface);

function expectShare(got: number | null, wanted: number, share = ROUNDING): void {
  expect(got).not.toBeNull();
  expect(Math.abs((got ?? Number.NaN) - wanted)).toBeLessThanOrEqual(share * Math.abs(wanted));
}

/** The mesh as board 'none' stands it: its lowest point at z = 0. */
const standing = (mesh: TriMesh): TriMesh => moved(mesh, [0, 0, -boundingBox(mesh).min[2]]);

function unit(v: readonly number[]): Vec3 {
  const length = Math.hypot(...v);
  return [v[0] / length, v[1] / length, v[2] / length];
}

describe('a cut through a closed body', () => {
  it('of a ball leaves the ball less a cap, pi h^2 (3 R - h) / 3, and a round face', async () => {
    const h = 20;
    const ball = octasphere(50, 60);
    const wholeMm3 = (4 / 3) * Math.PI * 50 ** 3;
    // Facets lie inside the ball. What they lack, as a share, is about the same everywhere: twice that of the whole is allowed.
    const facets = 2 * (1 - signedVolume(ball) / wholeMm3);
    expect(facets).toBeLessThan(1e-3);
    const scan = await prepare(ball, crop([1, 0, 0], 50 - h));
    expectShare(scan.volumeMm3, wholeMm3 - (Math.PI * h * h * (150 - h)) / 3, facets);
    const faceMm2 = Math.PI * (50 ** 2 - 30 ** 2);
    expectShare(areaOf(scan), 4 * Math.PI * 50 ** 2 - 2 * Math.PI * 50 * h + faceMm2, facets);
    expect(closedIn(scan)).toBe(1);
    expectValidScan(scan);
    const mark = scan.marks.find(({ code }) => code === 'cut-closed');
    for (let i = 0; i < (mark?.tris?.length ?? 0); i += 3) expect(mark?.tris?.[i]).toBe(30);
    // The face has points of its own: no triangle spans it from rim to rim.
    expect(mark?.tris?.length).toBeGreaterThan(9 * 1000);
  });

  it('of a ring along its axis leaves two faces, square to its axis one with an opening', async () => {
    const ring = torus(40, 12, 64, 32);
    const tube = 16 * 12 * 12 * Math.sin((2 * Math.PI) / 32);
    // A half-turn about x, which the mesh bears, swaps the sides of a plane along x: half the volume is left.
    const axial = await prepare(ring, crop([0, 1, 0], 0));
    expectShare(axial.volumeMm3, signedVolume(ring) / 2);
    expect(closedIn(axial)).toBe(2);
    expectShare(areaOf(axial), meshArea(ring) / 2 + 2 * tube);
    expectValidScan(axial);
    const level = await prepare(ring, crop([0, 0, 1], 12));
    expectShare(level.volumeMm3, signedVolume(ring) / 2);
    expect(closedIn(level)).toBe(1);
    const around = (r: number): number => 32 * r * r * Math.sin((2 * Math.PI) / 64);
    expectShare(areaOf(level), meshArea(ring) / 2 + around(52) - around(28));
    expectValidScan(level);
  });

  it('of a ring by the plane that touches it twice leaves half of it', async () => {
    // The two circles of Villarceau: the plane is tilted about x by asin(r / R) and touches the ring in two points.
    const ring = torus(40, 12, 64, 32);
    const normal: Vec3 = [0, -12 / 40, Math.sqrt(1 - (12 / 40) ** 2)];
    const scan = await prepare(ring, crop(normal, 12 * normal[2]));
    expectShare(scan.volumeMm3, signedVolume(ring) / 2);
    expect(leftIn(scan)).toBe(0);
    expectValidScan(scan);
  });

  it('by several planes leaves what is inside all of them: an edge of a ball, a prism', async () => {
    const prism = await prepare(box(40, 40, 40), {
      crops: [
        { normal: [1, 0, 0], offsetMm: 30 },
        { normal: [-1, 0, 0], offsetMm: -10 },
        { normal: [1, 1, 0], offsetMm: 50 },
        { normal: [0, 0, 1], offsetMm: 25 },
        { normal: [0, 0, 1], offsetMm: 100 },
      ],
    });
    // 20 x 40 less the triangle beyond x + y = 50: from (10, 40) to (30, 20).
    expectShare(prism.volumeMm3, 25 * (20 * 40 - 20 * 20 * 0.5));
    expectShare(areaOf(prism), 2 * (20 * 40 - 200) + 25 * (20 + 40 + 20 + Math.hypot(20, 20)));
    // The planes x = 30, x = 10, x + y = 50 and z = 25 each left a face; z = 100 misses.
    expect(closedIn(prism)).toBe(4);
    expectValidScan(prism);
    const quarter = await prepare(octasphere(30, 16), {
      crops: [
        { normal: [1, 0, 0], offsetMm: 0 },
        { normal: [0, 1, 0], offsetMm: 0 },
      ],
    });
    expectShare(quarter.volumeMm3, signedVolume(octasphere(30, 16)) / 4);
    expectValidScan(quarter);
  });

  it('of a cube in any pose through its middle leaves half of it', async () => {
    const random = seededRandom(3);
    for (let n = 0; n < 12; n++) {
      const pose = unit([random() - 0.5, random() - 0.5, random() - 0.5]);
      const cube = standing(turned(moved(box(20, 20, 20), [-10, -10, -10]), pose, 3 * random()));
      const { max } = boundingBox(cube);
      const normal = unit([random() - 0.5, random() - 0.5, random() - 0.5]);
      // The cube's middle is that of its box.
      const scan = await prepare(cube, crop(normal, (normal[2] * max[2]) / 2));
      expectShare(scan.volumeMm3, 4000);
      expect(closedIn(scan)).toBe(1);
      expectValidScan(scan);
    }
  });

  it('of balls, cubes and rings squeezed and turned by any plane: volume and area as clipped by hand', async () => {
    const shapes = [octasphere(30, 6), box(30, 20, 50), torus(30, 11, 18, 12)];
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    await fc.assert(
      fc.asyncProperty(
        fc.nat(2),
        fc.tuple(part, part, part),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.tuple(part, part, part),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        async (which, axis, angle, towards, share) => {
          fc.pre(Math.hypot(...axis) > 0.1 && Math.hypot(...towards) > 0.1);
          const mesh = standing(turned(shapes[which], unit(axis), angle));
          const normal = unit(towards);
          const heights: number[] = [];
          for (let i = 0; i < mesh.positions.length; i += 3) {
            heights.push(
              mesh.positions[i] * normal[0] +
                mesh.positions[i + 1] * normal[1] +
                mesh.positions[i + 2] * normal[2],
            );
          }
          const low = Math.min(...heights);
          const offsetMm = low + share * (Math.max(...heights) - low);
          const scan = await prepare(mesh, crop(normal, offsetMm));
          const byHand = clippedByHand(mesh, normal, offsetMm);
          expect(leftIn(scan)).toBe(0);
          // Of a sliver the plane's tolerance, 2e-7 of the size, is a greater share.
          const slackMm3 = 1e-6 * Math.abs(signedVolume(mesh));
          expect(Math.abs((scan.volumeMm3 ?? Number.NaN) - byHand.volumeMm3)).toBeLessThan(slackMm3);
          const kept = scan.marks.filter(({ code }) => code === 'cut-closed');
          const cutMm2 = kept.reduce((sum, { tris }) => sum + looseArea(tris ?? new Float64Array(0)), 0);
          expect(Math.abs(cutMm2 - byHand.cutMm2)).toBeLessThan(1e-6 * meshArea(mesh));
        },
      ),
      { numRuns: 60, seed: 5 },
    );
  });

  it('of two bodies that run into each other closes each', async () => {
    // Two boxes that overlap: the outlines cross, and each face is laid on its own.
    const pair = joined(box(40, 20, 20), moved(box(20, 40, 20), [10, -10, 0]));
    const scan = await prepare(pair, crop([0, 0, 1], 12));
    expect(closedIn(scan)).toBe(2);
    expect(leftIn(scan)).toBe(0);
    expectShare(scan.volumeMm3, 12 * (800 + 800));
  });

  it('of a hollow body drops the wall inside and closes the outer one', async () => {
    const hollow = joined(octasphere(40, 12), octasphere(36, 12));
    const scan = await prepare(hollow, crop([1, 0, 0], 11));
    const byHand = clippedByHand(standing(octasphere(40, 12)), [1, 0, 0], 11);
    expectShare(scan.volumeMm3, byHand.volumeMm3);
    expect(scan.report.repairs.some(({ code }) => code === 'inner-parts-dropped')).toBe(true);
    expectValidScan(scan);
  });

  it('leaves an outline that crosses itself open and says so', async () => {
    // A bent tube of one surface that runs through itself: its cut is a figure of eight with a crossing.
    const tube = selfCrossingPrism();
    const scan = await prepare(tube, crop([0, 0, 1], 10));
    expect(leftIn(scan)).toBe(1);
    expect(closedIn(scan)).toBe(0);
    expect(scan.volumeMm3).toBeNull();
  });
});

describe('a cut through a scan that is open', () => {
  it('underneath: an upright cut comes down to the board and ends on it', async () => {
    const dome = openHalfSphere(50, 24);
    const scan = await prepare(dome, { board: 'auto', ...crop([1, 0, 0], 0) });
    expectShare(scan.volumeMm3, signedVolume(dome) / 2);
    expect(closedIn(scan)).toBe(1);
    expect(leftIn(scan)).toBe(0);
    expectShare(areaOf(scan), (meshArea(dome) + Math.PI * 50 ** 2) / 2, 3e-3);
    // Nothing stands on the board but the rim: the base stays open.
    expect(scan.isSurface.every((flag) => flag === 1)).toBe(true);
    expectValidScan(scan);
  });

  it('underneath, standing on two feet: the cut through both has one face', async () => {
    const bow = turned(torus(40, 12, 64, 32), [1, 0, 0], Math.PI / 2);
    const scan = await prepare(bow, { board: 0, ...crop([0, 1, 0], 0) });
    expectShare(scan.volumeMm3, signedVolume(bow) / 4);
    expect(closedIn(scan)).toBe(1);
    expectValidScan(scan);
  });

  it('at its side and underneath: where the cut runs over an old edge it is closed straight across', async () => {
    // Without a board: a box open at the bottom. The cut is a U, closed by the straight line between its ends.
    const open = withoutFaces(box(40, 40, 40), (_x, _y, z) => z < 1e-9);
    const scan = await prepare(open, crop([1, 0, 0], 25));
    expect(closedIn(scan)).toBe(1);
    const note = scan.report.repairs.find(({ code }) => code === 'cut-closed');
    expect(note?.text).toContain('1 place');
    // The walls of 25 x 40, the back, the cut face, the top; the bottom is the hole that was there.
    expectShare(areaOf(scan), 2 * 25 * 40 + 2 * 40 * 40 + 25 * 40);
    expect(scan.report.warnings.find(({ code }) => code === 'holes-left')?.count).toBe(1);
  });

  it('on a rough table: cut away round the pattern, it stands closed on the board', async () => {
    const random = seededRandom(11);
    // One sheet, as a scan from above is: a block of 40 x 40 x 55 with walls that lean by a square of the grid, on a rough table.
    const isBlock = (x: number, y: number): boolean => x >= 60 && x <= 100 && y >= 60 && y <= 100;
    const sheet = roughTable(160, 40, (x, y) => (isBlock(x, y) ? 55 : 1.5 * (random() - 0.5)));
    const crops = [
      { normal: [1, 0, 0], offsetMm: 105.3 },
      { normal: [-1, 0, 0], offsetMm: -54.7 },
      { normal: [0, 1, 0], offsetMm: 105.3 },
      { normal: [0, -1, 0], offsetMm: -54.7 },
    ] as const;
    const scan = await prepare(sheet, { board: 0, crops });
    expect(leftIn(scan)).toBe(0);
    // A grid's volume is its nodes' heights times a square; the table's bumps are no more than 0.75 mm on what is left of it.
    const blockMm3 = 11 * 11 * 55 * 4 * 4;
    expect(Math.abs((scan.volumeMm3 ?? Number.NaN) - blockMm3)).toBeLessThan(0.75 * (50.6 ** 2 - 40 ** 2));
    expectValidScan(scan);
  });

  it('level, a little above the board: the foot stays open and comes down by its skirt', async () => {
    const scan = await prepare(box(40, 40, 60), { board: 0, ...crop([0, 0, -1], -2) });
    expect(closedIn(scan)).toBe(0);
    expect(scan.report.warnings.some(({ code }) => code === 'skirt-added')).toBe(true);
    expectShare(scan.volumeMm3, 40 * 40 * 60);
    expectValidScan(scan);
  });

  it('level, high above the board: what hangs there is closed underneath', async () => {
    const scan = await prepare(box(40, 40, 60), { board: 0, ...crop([0, 0, -1], -30) });
    expect(closedIn(scan)).toBe(1);
    expectShare(scan.volumeMm3, 40 * 40 * 30);
    expectShare(areaOf(scan), 2 * 40 * 40 + 4 * 40 * 30);
    expectValidMesh(scan.mesh);
  });
});

describe('the shell over a cut', () => {
  it('of half a ball is as the formula for half a ball has it', async () => {
    const t = 6;
    const r = 40;
    const result = await planShape(
      octasphere(r, 48),
      { coatsMm: [t], scan: crop([1, 0, 0], 0) },
      { resolution: 1.5 },
    );
    // Steiner: A = 3 pi R^2, bend pi R^2 (2 / R) of the dome and pi / 2 of angle along the rim's 2 pi R, a whole ball at last.
    const wanted =
      3 * Math.PI * r * r * t +
      (2 * Math.PI * r + (Math.PI * Math.PI * r) / 2) * t * t +
      (4 / 3) * Math.PI * t ** 3;
    // The facets lie within (pi R / 96)^2 / 8 R = 0.0054 mm of the ball; area, and with it the shell, is less by 2 x that / R.
    const facets = 3e-4 * wanted;
    expect(Math.abs(result.shell.volumeMm3 - wanted)).toBeLessThan(result.shell.volumeErrorMm3 + facets);
    expect(result.shell.volumeErrorMm3).toBeLessThan(0.01 * wanted);
  });

  it('parts along a line that runs over the cut face', async () => {
    const result = await planShape(
      openHalfSphere(40, 24),
      {
        coatsMm: [6],
        scan: { board: 'auto', ...crop([1, 0, 0], 10) },
        parting: { pieceCount: 2, pullAzimuthsDeg: [90] },
      },
      { resolution: 2 },
    );
    expect(result.pieces).toHaveLength(2);
    expect(result.partingLines).toHaveLength(1);
    const points = result.partingLines[0].points;
    expect(points.filter(([x, , z]) => Math.abs(x - 10) < 1e-6 && z > 1).length).toBeGreaterThan(3);
    const [a, b] = result.pieces;
    expect(Math.min(a.areaMm2, b.areaMm2)).toBeGreaterThan(0.3 * result.rubber.areaMm2);
    expectShare(a.areaMm2 + b.areaMm2, result.rubber.areaMm2);
  });
});

function looseArea(tris: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < tris.length; i += 9) {
    const at = tris.subarray(i, i + 9);
    sum += meshArea({ positions: at, indices: Uint32Array.of(0, 1, 2) });
  }
  return sum;
}

/** Without the faces whose corners' mean is told. */
function withoutFaces(mesh: TriMesh, isGone: (x: number, y: number, z: number) => boolean): TriMesh {
  const { positions: p, indices } = mesh;
  const kept: number[] = [];
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [3 * indices[t], 3 * indices[t + 1], 3 * indices[t + 2]];
    const at = [0, 1, 2].map((k) => (p[a + k] + p[b + k] + p[c + k]) / 3);
    if (!isGone(at[0], at[1], at[2])) kept.push(indices[t], indices[t + 1], indices[t + 2]);
  }
  return compact({ positions: p, indices: Uint32Array.from(kept) });
}

/** A sheet of n x n squares over 0 .. size, looking up. */
function roughTable(size: number, n: number, height: (x: number, y: number) => number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= n; i++) {
      const x = (i * size) / n;
      const y = (j * size) / n;
      positions.push(x, y, height(x, y));
    }
  }
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const a = j * (n + 1) + i;
      indices.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** A prism over a line that crosses itself, unevenly: closed in its edges, and no body. */
function selfCrossingPrism(): TriMesh {
  const outline = [
    [0, 0],
    [40, 30],
    [40, 0],
    [10, 30],
  ];
  const n = outline.length;
  const positions = [0, 20].flatMap((z) => outline.flatMap(([x, y]) => [x, y, z]));
  const indices: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    indices.push(i, j, n + j, i, n + j, n + i);
  }
  indices.push(0, 2, 1, 0, 3, 2, n, n + 1, n + 2, n, n + 2, n + 3);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
