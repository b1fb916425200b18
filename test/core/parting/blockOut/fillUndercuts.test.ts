import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import { PlanError } from '../../../../src/core/errors.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import type { BlockOut } from '../../../../src/core/parting/blockOut/BlockOut.ts';
import { fillUndercuts } from '../../../../src/core/parting/blockOut/fillUndercuts.ts';
import { planParting } from '../../../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { castHeights } from '../../../../src/core/parting/undercut/castHeights.ts';
import { frameOf } from '../../../../src/core/parting/undercut/PullFrame.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { PartingPlan, ScanPlan } from '../../../../src/core/plan/PlanDocument.ts';
import { SurfaceTree } from '../../../../src/core/spatial/SurfaceTree.ts';
import { openMesh } from '../../../../src/io/openMesh.ts';
import { expectValidMesh, expectValidScan, volumeAlongX } from '../../../expectValidMesh.ts';
import { octasphere } from '../../../fixtures/shapes.ts';
import { lathe } from './lathe.ts';
import { markHidden } from './markHidden.ts';
import { partShape } from './partShape.ts';

const GIVE_MM = 0.5;

type Shape = Awaited<ReturnType<typeof partShape>>;

async function fill(
  shape: Shape,
  cellMm: number,
  accepted: 'all' | readonly Vec3[] = 'all',
  cp = new Checkpoint(),
): Promise<BlockOut | null> {
  const { scan, surface, parting } = shape;
  const undercut = markHidden(scan, parting);
  return fillUndercuts({ scan, surface, parting, undercut, accepted, giveMm: GIVE_MM, cellMm }, cp);
}

/** The filled body parted by the lines and pieces that came with it. */
async function partAgain(shape: Shape, out: BlockOut): Promise<Shape> {
  const surface = new SurfaceContext(out.scan);
  const plan = { ...shape.plan, lines: out.lines, pieces: out.pieces };
  return { scan: out.scan, surface, plan, parting: await planParting(surface, plan, new Checkpoint()) };
}

const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

const STEM: readonly (readonly [number, number])[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [10, 20],
  [20, 20],
  [30, 20],
  [30, 30],
  [0, 30],
];
const SIDES = 48;
const upright = (
  mesh: TriMesh,
  parting: Partial<PartingPlan>,
  scan: Partial<ScanPlan> = {},
): Promise<Shape> => partShape(mesh, parting, { board: 0, ...scan });
const mushroom = (): Promise<Shape> =>
  upright(lathe(STEM, SIDES), {
    pieceCount: 1,
    lines: [],
    pieces: [{ anchorMm: [0, 0, 30], name: 'hood', pull: [0, 0, 1] }],
  });
/** Under the cap, round the stem, down to the board: prisms on a regular polygon. */
const MUSHROOM_MM3 = ((SIDES * Math.sin((2 * Math.PI) / SIDES)) / 2) * (30 ** 2 - 10 ** 2) * 20;

/** Ball of radius 50 standing on its pole, its upper piece reaching to an angle below the equator. */
function ball(angleRad: number): Promise<Shape> {
  const height = 50 - 50 * Math.sin(angleRad);
  const across = 50 * Math.cos(angleRad);
  const points = Array.from({ length: 90 }, (_, n): Vec3 => {
    const turn = (n * Math.PI) / 45 + 0.1;
    return [across * Math.cos(turn), across * Math.sin(turn), height];
  });
  return partShape(octasphere(50, 64), {
    lines: [{ id: 'L1', points, closed: true }],
    pieces: [
      { anchorMm: [0, 0, 100], name: 'over', pull: [0, 0, 1] },
      { anchorMm: [0, 0, 0], name: 'under', pull: [0, 0, -1] },
    ],
  });
}

describe('fillUndercuts', () => {
  it('a ball covered to 30 degrees below its equator: (2 pi R^3 / 3)(tan a - sin a), within its bound and 0.5 %', async () => {
    // Ruled wall along the radii: the cylinder's ring down to the cone, less the ball (GEOMETRY section f, own derivation).
    const a = Math.PI / 6;
    const exactMm3 = ((2 * Math.PI * 50 ** 3) / 3) * (Math.tan(a) - Math.sin(a));
    const shape = await ball(a);
    const out = await fill(shape, 1);
    expect(out).not.toBeNull();
    if (!out) return;
    expect(out.volumeMm3[1]).toBe(0);
    expect(Math.abs(out.volumeMm3[0] - exactMm3)).toBeLessThan(0.005 * exactMm3);
    expect(Math.abs(out.volumeMm3[0] - exactMm3)).toBeLessThan(out.volumeErrorMm3[0]);
    expectValidScan(out.scan);
    expectValidMesh(out.filler);
    // The union's volume by another route than the code's.
    const gained = volumeAlongX(out.scan.mesh) - volumeAlongX(shape.scan.mesh);
    expect(Math.abs(gained - total(out.volumeMm3))).toBeLessThan(1e-5 * exactMm3 + 1);
    const again = await partAgain(shape, out);
    expect(again.parting.pieces.map(({ id, name, pull }) => [id, name, pull])).toEqual(
      shape.parting.pieces.map(({ id, name, pull }) => [id, name, pull]),
    );
  });

  it('a mushroom pulled up: the room under its cap down to the board, and then its pull runs clear', async () => {
    const shape = await mushroom();
    const out = await fill(shape, 1);
    expect(out).not.toBeNull();
    if (!out) return;
    expect(Math.abs(out.volumeMm3[0] - MUSHROOM_MM3)).toBeLessThan(0.005 * MUSHROOM_MM3);
    expect(Math.abs(out.volumeMm3[0] - MUSHROOM_MM3)).toBeLessThan(out.volumeErrorMm3[0]);
    expectValidScan(out.scan);
    expect(out.filled).toEqual([0]);
    expect(out.scan.report.repairs.map((note) => note.code)).toContain('undercuts-filled');
    expectClear(out.scan.mesh, [0, 0, 1], 0.5);
    // Nothing of size is left to fill.
    const again = await fill(await partAgain(shape, out), 1);
    expect(total(again?.volumeMm3 ?? [])).toBeLessThan(1e-3 * MUSHROOM_MM3);
  });

  it('two pieces whose fillers meet at their wall: no slit, the line carried out, both sides the same by symmetry', async () => {
    const lean = Math.PI / 6;
    const side = (sign: number): Vec3 => [0, sign * Math.sin(lean), Math.cos(lean)];
    const across: Vec3[] = [
      [-10, 0, 0],
      [-10, 0, 20],
      [-30, 0, 20],
      [-30, 0, 30],
      [30, 0, 30],
      [30, 0, 20],
      [10, 0, 20],
      [10, 0, 0],
    ];
    const shape = await upright(lathe(STEM, SIDES), {
      lines: [{ id: 'L1', points: across, closed: false }],
      pieces: [
        { anchorMm: [0, -20, 30], name: 'front', pull: side(-1) },
        { anchorMm: [0, 20, 30], name: 'back', pull: side(1) },
      ],
    });
    const out = await fill(shape, 1);
    expect(out).not.toBeNull();
    if (!out) return;
    expectValidScan(out.scan);
    expect(Math.abs(out.volumeMm3[0] - out.volumeMm3[1])).toBeLessThan(0.01 * total(out.volumeMm3));
    const again = await partAgain(shape, out);
    expect(again.parting.pieces.map((piece) => piece.name)).toEqual(
      shape.parting.pieces.map((piece) => piece.name),
    );
    // The line goes round the filler: no point of it stays at the stem.
    for (const [x] of out.lines[0].points.filter((point) => point[2] < 10))
      expect(Math.abs(x)).toBeGreaterThan(13);
  });

  it('goblet pulled up: its whole waist, against the heights of its shadow less the rubber', async () => {
    const bytes = readFileSync(new URL('../../../fixtures/goblet.stl', import.meta.url));
    const opened = await openMesh(Uint8Array.from(bytes).buffer, 'goblet.stl');
    const shape = await upright(
      opened.mesh,
      { pieceCount: 1, lines: [], pieces: [{ anchorMm: [0, 0, 1000], name: 'hood', pull: [0, 0, 1] }] },
      newPlan('goblet.stl').scan,
    );
    const out = await fill(shape, 2);
    expect(out).not.toBeNull();
    if (!out) return;
    expectValidScan(out.scan);
    // All that stands on the board under the body's heights, by a raster of a quarter millimetre, less the body itself.
    const pixelMm = 0.25;
    const { positions, indices } = shape.scan.mesh;
    const map = castHeights(positions, indices, frameOf([0, 0, 1]), null, pixelMm);
    let underMm3 = 0;
    for (const top of map.top) if (top > 0) underMm3 += top * pixelMm * pixelMm;
    const shadowMm3 = underMm3 - volumeAlongX(shape.scan.mesh);
    expect(out.volumeMm3[0]).toBeGreaterThan(200_000);
    expect(Math.abs(out.volumeMm3[0] - shadowMm3)).toBeLessThan(out.volumeErrorMm3[0]);
    expect(Math.abs(out.volumeMm3[0] - shadowMm3)).toBeLessThan(0.005 * shadowMm3);
  });

  it('only the spots that the points name are filled; a point far from any fills nothing', async () => {
    const twin = lathe(
      [
        [0, 0],
        [20, 0],
        [20, 10],
        [10, 10],
        [10, 20],
        [20, 20],
        [20, 30],
        [10, 30],
        [10, 40],
        [20, 40],
        [20, 50],
        [0, 50],
      ],
      32,
    );
    const plan = {
      pieceCount: 1,
      lines: [],
      pieces: [{ anchorMm: [0, 0, 50] as Vec3, name: 'hood', pull: [0, 0, 1] as Vec3 }],
    };
    const shape = await upright(twin, plan);
    const grooveMm3 = ((32 * Math.sin((2 * Math.PI) / 32)) / 2) * (20 ** 2 - 10 ** 2) * 10;
    const one = await fill(shape, 1, [[15, 0, 20]]);
    expect(one).not.toBeNull();
    expect(Math.abs(total(one?.volumeMm3 ?? []) - grooveMm3)).toBeLessThan(0.01 * grooveMm3);
    expect(await fill(shape, 1, [[0, 0, 50]])).toBeNull();
    expect(await fill(shape, 1, [])).toBeNull();
  });

  it('a scan that does not close is refused in words, and nothing else happens to it', async () => {
    const shape = await mushroom();
    const open = { ...shape, scan: { ...shape.scan, volumeMm3: null } };
    const failed = fill(open, 1);
    await expect(failed).rejects.toBeInstanceOf(PlanError);
    await expect(failed).rejects.toMatchObject({ code: 'bad-plan', field: 'parting.blockOut' });
  });

  it('filler without end is refused: a ball in one piece has all the room under it in its way', async () => {
    const shape = await partShape(octasphere(10, 12), {
      pieceCount: 1,
      lines: [],
      pieces: [{ anchorMm: [0, 0, 20], name: 'all', pull: [0, 0, 1] }],
    });
    await expect(fill(shape, 0.5)).rejects.toMatchObject({ code: 'bad-pull' });
  });

  it('progress rises to 1, and a cancel is heard', async () => {
    const shape = await mushroom();
    const seen: number[] = [];
    await fill(shape, 1, 'all', new Checkpoint((fraction) => seen.push(fraction)));
    expect(seen.every((fraction, n) => n === 0 || fraction >= seen[n - 1])).toBe(true);
    expect(seen[seen.length - 1]).toBe(1);
    const cancel = new AbortController();
    const job = fill(shape, 1, 'all', new Checkpoint(() => cancel.abort(), cancel.signal));
    await expect(job).rejects.toMatchObject({ name: 'AbortError' });
  });
});

/**
 * Fails when a face stays locked deeper than `reachMm`: from over its middle the ray along the pull must run clear after a
 * step of that length square to the pull, in one direction of sixteen.
 */
function expectClear(mesh: TriMesh, pull: Vec3, reachMm: number): void {
  const tree = new SurfaceTree(mesh);
  const { positions: p, indices } = mesh;
  let locked = 0;
  for (let t = 0; t < indices.length / 3; t++) {
    const m = [0, 0, 0];
    for (let k = 0; k < 9; k++) m[k % 3] += p[3 * indices[3 * t + Math.floor(k / 3)] + (k % 3)] / 3;
    // Faces of the base look at the board.
    if (m[2] < 1e-9) continue;
    let isFree = tree.firstHit([m[0], m[1], m[2] + 1e-3], pull) === null;
    for (let n = 0; n < 16 && !isFree; n++) {
      const turn = (n * Math.PI) / 8;
      const x = m[0] + reachMm * Math.cos(turn);
      const y = m[1] + reachMm * Math.sin(turn);
      isFree = tree.firstHit([x, y, m[2] + 1e-3], pull) === null;
    }
    if (!isFree) locked++;
  }
  expect(locked, 'faces that stay locked').toBe(0);
}
