import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { MeshError } from '../../../src/core/errors.ts';
import { buildTwins } from '../../../src/core/mesh/buildTwins.ts';
import { meshArea } from '../../../src/core/mesh/measure.ts';
import type { PreparedScan } from '../../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { ScanPlan } from '../../../src/core/plan/PlanDocument.ts';
import { expectValidMesh, expectValidScan } from '../../expectValidMesh.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import {
  box,
  compact,
  cylinder,
  joined,
  moved,
  octasphere,
  openHalfSphere,
  scaled,
  torus,
  turned,
} from '../../fixtures/shapes.ts';

/** Sums of a few ten thousand terms in Float64 leave about 1e-13; clipping and turning add a little. */
const ROUNDING = 1e-9;

function prepare(mesh: TriMesh, plan: Partial<ScanPlan> = {}): Promise<PreparedScan> {
  const { scan } = newPlan('shape.stl');
  return prepareScan(mesh, { ...scan, unit: 'mm', up: 'z', ...plan }, [], new Checkpoint());
}

const areaOf = (scan: PreparedScan): number => meshArea(scan.mesh, scan.isSurface);
const codes = (notes: readonly { readonly code: string }[]): string[] => notes.map((note) => note.code);
const countOfNote = (scan: PreparedScan, code: string): number | undefined =>
  scan.report.repairs.find((note) => note.code === code)?.count;
const relative = (got: number | null, wanted: number): number =>
  Math.abs((got ?? Number.NaN) - wanted) / Math.abs(wanted);

function withTris(mesh: TriMesh, indices: readonly number[] | Uint32Array): TriMesh {
  return { positions: mesh.positions, indices: Uint32Array.from(indices) };
}

/** Every vertex once for every face that uses it, as STL files have them. */
function soup(mesh: TriMesh): TriMesh {
  const positions = new Float64Array(3 * mesh.indices.length);
  mesh.indices.forEach((v, i) => {
    positions.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i);
  });
  return { positions, indices: Uint32Array.from(mesh.indices, (_, i) => i) };
}

function withTurnedFaces(mesh: TriMesh, share: number, seed: number): TriMesh {
  const random = seededRandom(seed);
  const indices = mesh.indices.slice();
  for (let t = 0; t < indices.length; t += 3) if (random() < share) indices.subarray(t, t + 2).reverse();
  return { positions: mesh.positions, indices };
}

describe('prepareScan, exact shapes', () => {
  it('a cylinder on the board: prism volume n/2 r2 sin(2 pi/n) h, base left out of S (elementary geometry)', async () => {
    const scan = await prepare(cylinder(30, 80, 64), { board: 'auto' });
    const baseMm2 = 32 * 900 * Math.sin((2 * Math.PI) / 64);
    const sideMm2 = 64 * 2 * 30 * Math.sin(Math.PI / 64) * 80;
    expect(relative(scan.volumeMm3, baseMm2 * 80)).toBeLessThan(ROUNDING);
    expect(relative(areaOf(scan), baseMm2 + sideMm2)).toBeLessThan(ROUNDING);
    expect(scan.isSurface.filter((flag) => flag === 0).length).toBe(64);
    expect(scan.heightMm).toBe(80);
    expectValidScan(scan);
  });

  it('a half sphere open underneath has the volume and area of S of the capped one', async () => {
    const open = await prepare(openHalfSphere(50, 24), { board: 'auto' });
    const cut = await prepare(octasphere(50, 24), { board: 0 });
    expect(open.volumeMm3).not.toBeNull();
    expect(relative(open.volumeMm3, cut.volumeMm3 as number)).toBeLessThan(ROUNDING);
    expect(relative(areaOf(open), areaOf(cut))).toBeLessThan(ROUNDING);
    expect(codes(open.report.warnings)).not.toContain('holes-left');
    expect(open.report.openLoops).toBe(1);
    expectValidScan(open);
    expectValidScan(cut);
  });

  it('cuts a box exactly: a turned cube through its middle keeps half its volume (point symmetry)', async () => {
    const cube = turned(moved(box(10, 10, 10), [-5, -5, -5]), [1, 2, 3], 0.7);
    const scan = await prepare(cube, { board: 0 });
    expect(relative(scan.volumeMm3, 500)).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('keeps a closed solid whole without a board', async () => {
    const scan = await prepare(torus(40, 12, 64, 32), { board: 'none' });
    expect(scan.standsOnBoard).toBe(false);
    expect(scan.isSurface.every((flag) => flag === 1)).toBe(true);
    expect(scan.mesh.positions.reduce((low, z, i) => (i % 3 === 2 ? Math.min(low, z) : low), Infinity)).toBe(
      0,
    );
    expectValidScan(scan);
  });

  it('crops: a box less a slab cut by a slanting plane, volume by the prism of its mean height', async () => {
    // Kept: x + z <= 25 in frame 0..10, 0..10, 0..20: heights run from 20 (x <= 5) down to 15 at x = 10.
    const scan = await prepare(box(10, 10, 20), {
      board: 0,
      crops: [{ normal: [1, 0, 1], offsetMm: 25 }],
    });
    expect(relative(scan.volumeMm3, 10 * (5 * 20 + 5 * 17.5))).toBeLessThan(ROUNDING);
    expect(countOfNote(scan, 'cut-closed')).toBe(1);
    expectValidScan(scan);
  });
});

describe('prepareScan, mending', () => {
  const ball = octasphere(50, 24);

  it.each([0.1, 0.3, 0.4])(
    'turned faces (%d of all) are turned back: volume and count exact',
    async (share) => {
      const whole = await prepare(ball, { board: 'none' });
      const scan = await prepare(withTurnedFaces(ball, share, 7), { board: 'none' });
      expect(relative(scan.volumeMm3, whole.volumeMm3 as number)).toBeLessThan(ROUNDING);
      expect(countOfNote(scan, 'faces-turned')).toBeGreaterThan(share * 0.8 * (ball.indices.length / 3));
      expectValidScan(scan);
    },
  );

  it('an inside-out solid and an inside-out open shell are turned over as a whole', async () => {
    const closed = await prepare(withTurnedFaces(ball, 1, 1), { board: 'none' });
    expect(closed.volumeMm3).toBeGreaterThan(0);
    expect(countOfNote(closed, 'faces-turned')).toBe(ball.indices.length / 3);
    const open = await prepare(withTurnedFaces(openHalfSphere(50, 16), 1, 1), { board: 'auto' });
    expect(open.volumeMm3).toBeGreaterThan(0);
  });

  it('a patch that hangs free inside the rim of a bowl is wound outward by rays', async () => {
    // A ball cut at z = 20 into two open shells that share no vertex; the cap alone is turned inside out.
    const upper: number[] = [];
    const lower: number[] = [];
    for (let t = 0; t < ball.indices.length; t += 3) {
      const tri = Array.from(ball.indices.subarray(t, t + 3));
      const mean = tri.reduce((sum, v) => sum + ball.positions[3 * v + 2], 0) / 3;
      if (mean > 20) upper.push(tri[1], tri[0], tri[2]);
      else lower.push(...tri);
    }
    const lifted = moved(compact(withTris(ball, upper)), [0, 0, 0.5]);
    const scan = await prepare(joined(compact(withTris(ball, lower)), lifted), {
      board: 'none',
      fillHolesToMm: 0,
    });
    expect(countOfNote(scan, 'faces-turned')).toBe(upper.length / 3);
    expect(codes(scan.report.warnings)).toContain('holes-left');
    expect(scan.volumeMm3).toBeNull();
  });

  it('duplicates go whatever their winding; the area does not double', async () => {
    const extra: number[] = [];
    for (let t = 0; t < ball.indices.length; t += 9) {
      const [a, b, c] = ball.indices.subarray(t, t + 3);
      extra.push(...(t % 2 ? [b, a, c] : [c, a, b]));
    }
    const whole = await prepare(ball, { board: 'none' });
    const scan = await prepare(withTris(ball, [...ball.indices, ...extra]), { board: 'none' });
    expect(countOfNote(scan, 'duplicate-faces-dropped')).toBe(extra.length / 3);
    expect(relative(areaOf(scan), areaOf(whole))).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('missing faces: a flat hole is filled with just its area', async () => {
    // One of the four faces of a 10 x 10 grid on a box's top is left out: 100 mm2 of 400.
    const top = gridBox(20, 2);
    const missing = withTris(top, top.indices.slice(6));
    const scan = await prepare(missing, { board: 0 });
    expect(countOfNote(scan, 'holes-filled')).toBe(1);
    expect(relative(scan.filledAreaMm2, 100)).toBeLessThan(ROUNDING);
    expect(relative(scan.volumeMm3, 8000)).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('a part of which the board leaves only a flake goes, the rest stays', async () => {
    // Areas by Archimedes: the small ball is 4^2/50^2 = 0.64 % of the large one, no crumb at 0.3 %; of the caps above the
    // board, 2 pi 4 x 1 against 2 pi 50 x 70, it is 0.11 %.
    const pair = joined(moved(octasphere(50, 12), [0, 0, 20]), moved(octasphere(4, 8), [80, 0, -3]));
    const whole = await prepare(pair, { board: 0, crumbShare: 0 });
    const scan = await prepare(pair, { board: 0, crumbShare: 0.003 });
    expect(scan.volumeMm3).toBeLessThan(whole.volumeMm3 as number);
    expect(countOfNote(scan, 'flakes-dropped')).toBe(1);
    expect(countOfNote(scan, 'crumbs-dropped')).toBeUndefined();
    expectValidScan(scan);
  });

  it('holes that touch in a point are filled one by one: two squares of a chessboard, corner to corner', async () => {
    const top = gridBox(40, 4);
    // Squares are two faces each, four squares a row: the second of row 1 and the third of row 2.
    const gone = new Set([10, 11, 20, 21]);
    const kept: number[] = [];
    for (let t = 0; t < top.indices.length / 3; t++) {
      if (!gone.has(t)) kept.push(...top.indices.subarray(3 * t, 3 * t + 3));
    }
    const scan = await prepare(withTris(top, kept), { board: 0, fillHolesToMm: 41 });
    expect(countOfNote(scan, 'holes-filled')).toBe(2);
    expect(relative(scan.filledAreaMm2, 200)).toBeLessThan(ROUNDING);
    expect(relative(scan.volumeMm3, 64_000)).toBeLessThan(ROUNDING);
    expect(scan.mesh.positions.length).toBe(top.positions.length);
    expectValidScan(scan);
  });

  it('faces missing here and there are filled again, to within the sagitta of the faces (seed 3)', async () => {
    const random = seededRandom(3);
    const kept: number[] = [];
    for (let t = 0; t < ball.indices.length; t += 3) {
      if (random() >= 0.05) kept.push(...ball.indices.subarray(t, t + 3));
    }
    const whole = await prepare(ball, { board: 'none' });
    const scan = await prepare(withTris(ball, kept), { board: 'none' });
    expect(codes(scan.report.warnings)).not.toContain('holes-left');
    // A missing vertex is cut off by at most its edge's sagitta, 3.3^2 / (2 x 50) = 0.11 mm, over 5 % of the area.
    expect(relative(scan.volumeMm3, whole.volumeMm3 as number)).toBeLessThan((0.11 * 0.05 * 3) / 50 + 1e-4);
    expectValidScan(scan);
  });

  it('the base loop is never filled, nor a loop over the limit', async () => {
    const open = await prepare(openHalfSphere(5, 12), { board: 'auto', fillHolesToMm: 1000 });
    expect(countOfNote(open, 'holes-filled')).toBeUndefined();
    expect(open.filledAreaMm2).toBe(0);
    const top = gridBox(20, 2);
    const scan = await prepare(withTris(top, top.indices.slice(6)), { board: 0, fillHolesToMm: 39.9 });
    expect(countOfNote(scan, 'holes-filled')).toBeUndefined();
    expect(scan.report.warnings.find((note) => note.code === 'holes-left')?.count).toBe(1);
    expect(scan.volumeMm3).toBeNull();
    expect(scan.marks.some((mark) => mark.code === 'holes-left' && mark.points.length === 12)).toBe(true);
  });

  it('soup is welded exactly; hairline cracks are welded near', async () => {
    const plain = await prepare(soup(ball), { board: 'none' });
    expect(countOfNote(plain, 'welded')).toBe(ball.indices.length - ball.positions.length / 3);
    expect(plain.report.openEdges).toBe(0);
    const random = seededRandom(9);
    const shaken = soup(ball);
    for (let i = 0; i < shaken.positions.length; i++) shaken.positions[i] += 0.004 * (random() - 0.5);
    const scan = await prepare(shaken, { board: 'none', fillHolesToMm: 0 });
    expect(scan.report.openEdges).toBe(ball.indices.length);
    expect(codes(scan.report.warnings)).not.toContain('holes-left');
    // Every vertex is off by at most 0.002 sqrt 3 mm, so the volume by at most that times the area.
    expect(Math.abs((scan.volumeMm3 ?? 0) - (plain.volumeMm3 ?? 0))).toBeLessThan(0.0035 * areaOf(plain));
    expectValidScan(scan);
  });

  it('two cubes that share an edge are parted into two solids of the right volume', async () => {
    const pair = joined(box(10, 10, 10), moved(box(10, 10, 10), [10, 10, 0]));
    const scan = await prepare(pair, { board: 'none' });
    expect(scan.report.nonManifoldEdges).toBe(1);
    expect(scan.report.components).toBe(1);
    expect(countOfNote(scan, 'non-manifold-parted')).toBe(1);
    expect(relative(scan.volumeMm3, 2000)).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('faces of no area and of no number go, and the rest stays closed', async () => {
    // A corner on the middle of an edge: the flat face between them must be flipped away, not leave a slit.
    const cube = box(10, 10, 10);
    const positions = Float64Array.from([...cube.positions, 5, 0, 0, Number.NaN, 0, 0]);
    // Faces 0 2 3 / 0 3 1 (bottom) and 0 1 5 / 0 5 4 (front) meet in edge 0 1; the front takes the new corner 8.
    const indices: number[] = [];
    for (let t = 0; t < cube.indices.length; t += 3) {
      const tri = Array.from(cube.indices.subarray(t, t + 3));
      if (tri.join() === '0,1,5') indices.push(0, 8, 5, 8, 1, 5);
      else indices.push(...tri);
    }
    indices.push(0, 1, 8, 0, 0, 5, 1, 2, 9);
    const scan = await prepare({ positions, indices: Uint32Array.from(indices) }, { board: 'none' });
    expect(countOfNote(scan, 'zero-area-dropped')).toBe(2);
    expect(countOfNote(scan, 'not-finite-dropped')).toBe(1);
    expect(relative(scan.volumeMm3, 1000)).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('crumbs go by area, a second large part stays, an inner wall goes', async () => {
    const withCrumbs = joined(
      joined(ball, moved(octasphere(1, 2), [80, 0, 0])),
      moved(octasphere(30, 8), [100, 0, 0]),
    );
    const scan = await prepare(withCrumbs, { board: 'none' });
    expect(countOfNote(scan, 'crumbs-dropped')).toBe(1);
    expect(scan.report.components).toBe(3);
    const hollow = await prepare(joined(ball, octasphere(40, 12)), { board: 'none' });
    expect(countOfNote(hollow, 'inner-parts-dropped')).toBe(1);
    expect(relative(areaOf(hollow), meshArea(ball))).toBeLessThan(ROUNDING);
  });
});

describe('prepareScan, metamorphic', () => {
  // An uneven solid with no symmetry, open underneath on z = 0.
  const half = openHalfSphere(40, 20);
  const blob: TriMesh = {
    positions: half.positions.map((x, i) => {
      const z = half.positions[i - (i % 3) + 2];
      return i % 3 === 2 ? 1.5 * x : x * (1 + 0.3 * Math.sin(z / 9));
    }),
    indices: half.indices,
  };

  it('moved, turned about z, mirrored, reordered, turned inside out: the same volume, area and height', async () => {
    const plain = await prepare(blob, { board: 'auto' });
    const random = seededRandom(4);
    const faces = Array.from({ length: blob.indices.length / 3 }, (_, t) => ({ t, at: random() }));
    faces.sort((a, b) => a.at - b.at);
    const reordered = faces.flatMap(({ t }) => [
      blob.indices[3 * t + 1],
      blob.indices[3 * t + 2],
      blob.indices[3 * t],
    ]);
    for (const other of [
      moved(blob, [1234.5, -77, 310]),
      turned(blob, [0, 0, 1], 1.1),
      scaled(blob, [-1, 1, 1]),
      withTris(blob, reordered),
      withTurnedFaces(blob, 1, 1),
      soup(blob),
    ]) {
      const scan = await prepare(other, { board: 'auto' });
      expect(relative(scan.volumeMm3, plain.volumeMm3 as number)).toBeLessThan(ROUNDING);
      expect(relative(areaOf(scan), areaOf(plain))).toBeLessThan(ROUNDING);
      expect(relative(scan.heightMm, plain.heightMm)).toBeLessThan(ROUNDING);
    }
  });

  it.each([1e-3, 1, 1e3])(
    "scaled by %d: the same as by the plan's scale, cubed and squared",
    async (scale) => {
      const plain = await prepare(blob, { board: 'auto' });
      for (const scan of [
        await prepare(scaled(blob, [scale, scale, scale]), { board: 'auto' }),
        await prepare(blob, { board: 'auto', scale }),
      ]) {
        expect(relative(scan.volumeMm3, (plain.volumeMm3 as number) * scale ** 3)).toBeLessThan(ROUNDING);
        expect(relative(areaOf(scan), areaOf(plain) * scale ** 2)).toBeLessThan(ROUNDING);
      }
    },
  );

  it.each(['x', 'y', 'z', '-x', '-y', '-z'] as const)('stood on any side, up is found: %s', async (up) => {
    const plain = await prepare(blob, { board: 'auto' });
    const lie = {
      x: [0, 1, 0, 1],
      y: [1, 0, 0, -1],
      z: [0, 0, 1, 0],
      '-x': [0, 1, 0, -1],
      '-y': [1, 0, 0, 1],
      '-z': [1, 0, 0, 2],
    }[up];
    const lying = turned(blob, [lie[0], lie[1], lie[2]], (lie[3] * Math.PI) / 2);
    const scan = await prepare(lying, { board: 'auto', up: 'auto' });
    expect(scan.report.repairs.find((note) => note.code === 'up-found')?.text).toContain(`along ${up} of`);
    expect(relative(scan.volumeMm3, plain.volumeMm3 as number)).toBeLessThan(ROUNDING);
    expect(relative(scan.heightMm, plain.heightMm)).toBeLessThan(ROUNDING);
  });

  it("fileToBoard carries the file's points onto the prepared mesh", async () => {
    const scan = await prepare(moved(blob, [3, 4, 5]), {
      board: 'auto',
      turnDeg: 30,
      tiltDeg: [0, 0],
      unit: 'cm',
    });
    const a = scan.fileToBoard;
    const known = new Set<string>();
    const p = scan.mesh.positions;
    for (let i = 0; i < p.length; i += 3)
      known.add([p[i], p[i + 1], p[i + 2]].map((x) => x.toFixed(6)).join());
    const q = moved(blob, [3, 4, 5]).positions;
    let found = 0;
    for (let i = 0; i < q.length; i += 3) {
      const key = [0, 4, 8].map((r) =>
        (a[r] * q[i] + a[r + 1] * q[i + 1] + a[r + 2] * q[i + 2] + a[r + 3]).toFixed(6),
      );
      if (known.has(key.join()) || known.has(key.join().replace('-0.000000', '0.000000'))) found++;
    }
    expect(found).toBeGreaterThan(0.95 * (q.length / 3));
  });
});

describe('prepareScan, unit, board and refusals', () => {
  it('says a guessed unit in mm and inches with the other readings (1 in = 25.4 mm exactly: NIST SP 811)', async () => {
    const scan = await prepare(scaled(box(0.8, 0.6, 1.8), [1, 1, 1]), { unit: 'auto' });
    expect(scan.report.unit).toBe('m');
    const text = scan.report.warnings.find((note) => note.code === 'unit-guessed')?.text;
    expect(text).toContain('1\u202f800 mm (70.9 in)');
    expect(text).toContain('it would be 1.80 mm, 1.80 cm or 1.80 in');
    expect(scan.report.sizeMm[2]).toBeCloseTo(1800, 9);
    const inches = await prepare(box(1, 2, 3), { unit: 'in' });
    expect(relative(inches.volumeMm3, 6 * 25.4 ** 3)).toBeLessThan(ROUNDING);
  });

  it('a foot that is ragged is cut off at its highest point, and that is said', async () => {
    const tube = openTube(30, 100, 48, 2);
    const scan = await prepare(tube, { board: 'auto' });
    expect(codes(scan.report.warnings)).toContain('board-at-ragged-foot');
    expect(scan.heightMm).toBeCloseTo(98, 9);
    // Prism of 48 sides, 98 mm high.
    expect(relative(scan.volumeMm3, 24 * 900 * Math.sin((2 * Math.PI) / 48) * 98)).toBeLessThan(ROUNDING);
  });

  it('a foot that hangs above the board gets a straight skirt, and that is said', async () => {
    const scan = await prepare(openTube(30, 100, 48, 0), { board: -10 });
    expect(codes(scan.report.warnings)).toContain('skirt-added');
    expect(relative(scan.volumeMm3, 24 * 900 * Math.sin((2 * Math.PI) / 48) * 110)).toBeLessThan(ROUNDING);
    expect(relative(scan.filledAreaMm2, 48 * 60 * Math.sin(Math.PI / 48) * 10)).toBeLessThan(ROUNDING);
    expectValidScan(scan);
  });

  it('an uneven base is brought level within its tolerance', async () => {
    const solid = cylinder(30, 80, 64);
    const random = seededRandom(2);
    const positions = solid.positions.map((x, i) => (i % 3 === 2 && x === 0 ? 0.1 * random() : x));
    const scan = await prepare({ positions, indices: solid.indices }, { board: 'auto' });
    expect(countOfNote(scan, 'base-levelled')).toBeGreaterThan(0);
    expect(scan.isSurface.filter((flag) => flag === 0).length).toBe(64);
    expectValidScan(scan);
  });

  it('says when holes leave the inside uncertain, and only then', async () => {
    // The side walls of a box without top and base: no board to mirror in, so half the solid angle is missing.
    const walls = box(10, 10, 10).indices.subarray(12);
    const open = await prepare(withTris(box(10, 10, 10), walls), { board: 'none', fillHolesToMm: 0 });
    expect(codes(open.report.warnings)).toContain('sides-uncertain');
    const top = gridBox(40, 20);
    const pricked = await prepare(withTris(top, top.indices.slice(6)), { board: 0, fillHolesToMm: 0 });
    expect(codes(pricked.report.warnings)).toContain('holes-left');
    expect(codes(pricked.report.warnings)).not.toContain('sides-uncertain');
  });

  it('refuses what cannot be used, each with its code', async () => {
    const flat = withTris(box(1, 1, 1), [0, 0, 1, 2, 2, 2]);
    for (const [mesh, plan, code] of [
      [withTris(box(1, 1, 1), []), {}, 'no-faces'],
      [flat, {}, 'degenerate'],
      [scaled(box(1, 1, 1), [0, 0, 0]), {}, 'degenerate'],
      [box(10, 10, 10), { board: 20 }, 'below-board'],
    ] as const) {
      const error = await prepare(mesh, plan).catch((e: unknown) => e);
      expect(error).toBeInstanceOf(MeshError);
      expect((error as MeshError).code).toBe(code);
    }
  });

  it('throws the abort reason between its steps', async () => {
    const stop = new AbortController();
    stop.abort(new Error('stop here'));
    const { scan } = newPlan('a.stl');
    await expect(prepareScan(box(1, 1, 1), scan, [], new Checkpoint(() => {}, stop.signal))).rejects.toThrow(
      'stop here',
    );
  });

  it('does not change the mesh it is given', async () => {
    const mesh = withTurnedFaces(box(10, 10, 10), 0.4, 3);
    const before = [mesh.positions.slice(), mesh.indices.slice()];
    await prepare(mesh, { board: 5, turnDeg: 20 });
    expect([mesh.positions, mesh.indices]).toEqual(before);
  });
});

describe('buildTwins', () => {
  it('twins a closed mesh wholly, counts open and crowded edges', () => {
    const ball = octasphere(1, 6);
    const closed = buildTwins(ball.indices);
    expect(closed.openEdges + closed.nonManifoldEdges).toBe(0);
    expectValidMesh(ball);
    expect(closed.twins.every((twin, e) => closed.twins[twin] === e)).toBe(true);
    const open = buildTwins(ball.indices.subarray(3));
    expect(open.openEdges).toBe(3);
    const crowded = buildTwins(Uint32Array.from([0, 1, 2, 1, 0, 3, 0, 1, 4]));
    expect(crowded.nonManifoldEdges).toBe(1);
    expect(crowded.openEdges).toBe(6);
    expect(crowded.twins.every((twin) => twin === -1)).toBe(true);
    expect(buildTwins(Uint32Array.from([0, 1, 2, 0, 1, 3])).nonManifoldEdges).toBe(1);
  });
});

/** Cube of `size` whose top is a grid of n x n squares (the first two faces are its first square), sides matching. */
function gridBox(size: number, n: number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  const vert = new Map<string, number>();
  const at = (x: number, y: number, z: number): number => {
    const key = `${x},${y},${z}`;
    const known = vert.get(key);
    if (known !== undefined) return known;
    vert.set(key, positions.length / 3);
    positions.push(x, y, z);
    return positions.length / 3 - 1;
  };
  const s = size / n;
  const quad = (a: number, b: number, c: number, d: number): void => {
    indices.push(a, b, c, a, c, d);
  };
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [u0, u1, v0, v1] = [i * s, (i + 1) * s, j * s, (j + 1) * s];
      quad(at(u0, v0, size), at(u1, v0, size), at(u1, v1, size), at(u0, v1, size));
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [u0, u1, v0, v1] = [i * s, (i + 1) * s, j * s, (j + 1) * s];
      quad(at(u0, v0, 0), at(u0, v1, 0), at(u1, v1, 0), at(u1, v0, 0));
      quad(at(u0, 0, v0), at(u1, 0, v0), at(u1, 0, v1), at(u0, 0, v1));
      quad(at(u0, size, v0), at(u0, size, v1), at(u1, size, v1), at(u1, size, v0));
      quad(at(0, u0, v0), at(0, u0, v1), at(0, u1, v1), at(0, u1, v0));
      quad(at(size, u0, v0), at(size, u1, v0), at(size, u1, v1), at(size, u0, v1));
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** Cylinder closed on top, open underneath; every second point of its foot is raised by `ragged`. */
function openTube(radius: number, height: number, sides: number, ragged: number): TriMesh {
  const solid = cylinder(radius, height, sides);
  const indices: number[] = [];
  for (let t = 0; t < solid.indices.length; t += 3) {
    const tri = solid.indices.subarray(t, t + 3);
    if (!tri.includes(2 * sides)) indices.push(...tri);
  }
  const positions = solid.positions.slice();
  for (let i = 0; i < sides; i += 2) positions[3 * i + 2] += ragged;
  return compact({ positions, indices: Uint32Array.from(indices) });
}
