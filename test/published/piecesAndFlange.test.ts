import { describe, expect, it } from 'vitest';
import { runPlan } from '../../src/core/computePlan.ts';
import type { TriMesh, Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../src/core/plan/PlanDocument.ts';
import { planShape, shapePlan } from '../fixtures/planShape.ts';
import { box, joined, moved, octasphere, openHalfSphere } from '../fixtures/shapes.ts';
import { ROUNDING_SHARE } from '../tolerances.ts';
import { enclosedVolume, layerVolume, steinerByRegion, steinerOf } from './convexSteiner.ts';
import { expectCovered } from './expectCovered.ts';
import { unionOf } from './manifoldShapes.ts';

/** A closed line round the z axis on a sphere that stands on z = 0, at a height over its middle. */
function circle(radius: number, height: number, count = 24): PartingLinePlan {
  const r = Math.sqrt(radius ** 2 - height ** 2);
  const points = Array.from({ length: count }, (_, n): Vec3 => {
    // Off the mesh's own vertices, so that no corner of it lies on the line.
    const u = (2 * Math.PI * (n + 0.37)) / count;
    return [r * Math.cos(u), r * Math.sin(u), radius + height];
  });
  return { id: 'ring', points, closed: true };
}

describe('merging spheres: union of two balls less their lens', () => {
  it('two spheres of 20 mm, 30 apart, coat 6', async () => {
    const [r, apart, t] = [20, 30, 6];
    const ball = octasphere(r, 32);
    const mesh = await unionOf(moved(ball, [-apart / 2, 0, 0]), moved(ball, [apart / 2, 0, 0]));
    const result = await planShape(mesh, { coatsMm: [t] }, { resolution: 1.5 });
    // Lens of two balls of radius R at distance d: pi (2R - d)^2 (d^2 + 4 d R) / (12 d). Source: E. W. Weisstein,
    // "Sphere-Sphere Intersection", MathWorld, from memory; a ball's cap integrated twice gives the same.
    const R = r + t;
    const lens = (Math.PI * (2 * R - apart) ** 2 * (apart ** 2 + 4 * apart * R)) / (12 * apart);
    const union = 2 * (4 / 3) * Math.PI * R ** 3 - lens;
    // The parallel body of each inscribed polyhedron lacks a known volume of the ball's; the union lacks at most both.
    const lacking = (4 / 3) * Math.PI * R ** 3 - enclosedVolume(ball) - layerVolume(steinerOf(ball), t);
    expect(lacking).toBeGreaterThan(0);
    const inside = enclosedVolume(mesh);
    expectCovered(result.shell, union - lacking - inside, { deviationMm3: lacking });
  });

  it('two spheres that do not touch, layers that do', async () => {
    const [r, apart, t] = [15, 36, 6];
    const ball = octasphere(r, 24);
    const mesh = joined(moved(ball, [-apart / 2, 0, 0]), moved(ball, [apart / 2, 0, 0]));
    const result = await planShape(mesh, { coatsMm: [2, 4] }, { resolution: 1.2 });
    const R = r + t;
    const lens = (Math.PI * (2 * R - apart) ** 2 * (apart ** 2 + 4 * apart * R)) / (12 * apart);
    const lacking = (4 / 3) * Math.PI * R ** 3 - enclosedVolume(ball) - layerVolume(steinerOf(ball), t);
    const union = 2 * (4 / 3) * Math.PI * R ** 3 - lens;
    const inside = 2 * enclosedVolume(ball);
    expectCovered(result.shell, union - lacking - inside, { deviationMm3: lacking });
    expectCovered(result.pieces[0].coats[0], 2 * layerVolume(steinerOf(ball), 2));
  });
});

describe('spherical-cap sector: a piece has the share of the shell that its solid angle has of the sphere', () => {
  it.each([
    [6, 12],
    [-15, 12],
  ])('sphere of 40 mm parted at height %i, coat %i', async (height, t) => {
    const r = 40;
    const mesh = octasphere(r, 24);
    const plan = shapePlan({ coatsMm: [t / 3, t / 3, t / 3], parting: { lines: [circle(r, height)] } });
    const { result, parting } = await runPlan(plan, mesh, { resolution: 2, until: 'amounts' });
    expect(result.pieces).toHaveLength(2);
    const { cut } = parting;
    // The polyhedron's own: Steiner's local form over each region of the cut (convexSteiner.ts).
    const { regions, shared } = steinerByRegion(
      { positions: cut.positions, indices: cut.indices },
      cut.cutTriRegion,
    );
    result.pieces.forEach((piece, region) => {
      const slack = layerVolume({ ...shared, areaMm2: 0 }, t);
      expectCovered(piece, layerVolume(regions[region], t), { deviationMm3: slack });
      expect(piece.areaMm2).toBeCloseTo(regions[region].areaMm2, 5);
    });
    // The smooth cap over height c is the share (1 - c / r) / 2 of the ball. A chord of the line of 24 points cuts at
    // most r(1 - cos(pi / 24)) = 0.35 mm off the circle's height; faces of the mesh, 0.14 mm at edges of pi / 48.
    const shell = (4 / 3) * Math.PI * ((r + t) ** 3 - r ** 3);
    const upper = result.pieces.find((piece) => piece.centreOfMassMm[2] > r + height) ?? result.pieces[0];
    const share = (1 - height / r) / 2;
    expect(Math.abs(upper.volumeMm3 / shell - share)).toBeLessThan((0.35 + 0.14) / (2 * r));
    expectSums(result);
  });
});

describe('flange', () => {
  const [a, b] = [120, 60];
  const boxOnBoard = (c: number): Promise<Awaited<ReturnType<typeof planShape>>> => {
    const x = 53;
    const line: PartingLinePlan = {
      id: 'across',
      closed: false,
      points: [
        [x, 0, 0],
        [x, 0, c],
        [x, b, c],
        [x, b, 0],
      ],
    };
    // The box keeps its own frame: board auto finds its foot at z = 0.
    return planShape(
      box(a, b, c),
      {
        coatsMm: [4, 6],
        scan: { board: 0 },
        parting: { lines: [line] },
        flange: { widthMm: FLANGE.w, thicknessMm: FLANGE.f },
      },
      { resolution: 3 },
    );
  };
  const FLANGE = { w: 32, d: 10, f: 10 };
  const { w, d, f } = FLANGE;

  it('flat wall square to a box: thickness times [three sides times height + two quarter rings], each side', async () => {
    const c = 50;
    const result = await boxOnBoard(c);
    expect(result.pieces).toHaveLength(2);
    const face = (2 * c + b) * (w - d) + 2 * (Math.PI / 4) * (w ** 2 - d ** 2);
    for (const piece of result.pieces) {
      expectCovered(piece.flange, f * face, { of: 'flange' });
      expect(piece.flange.lengthMm).toBeCloseTo(2 * c + b, 6);
    }
    expectSums(result);
  });

  it('straight line: 2 f L w, from two boxes that differ by a length', async () => {
    const [short, tall] = [await boxOnBoard(40), await boxOnBoard(65)];
    const both = (r: typeof short): { volume: number; bound: number } => ({
      volume: r.pieces.reduce((sum, piece) => sum + piece.flange.volumeMm3, 0),
      bound: r.pieces.reduce((sum, piece) => sum + piece.flange.volumeErrorMm3, 0),
    });
    const more = both(tall).volume - both(short).volume;
    const exact = 2 * f * (2 * 25) * (w - d);
    expect(Math.abs(more - exact)).toBeLessThanOrEqual(both(tall).bound + both(short).bound);
    expect(Math.abs(more / exact - 1)).toBeLessThan(0.02);
  });

  it('round a sphere in its middle: f pi [(R + w)^2 - (R + d)^2] each side', async () => {
    const r = 30;
    const result = await planShape(
      octasphere(r, 32),
      {
        coatsMm: [6],
        parting: { lines: [circle(r, 0, 48)] },
        flange: { widthMm: 20, thicknessMm: 8 },
      },
      { resolution: 2.5 },
    );
    // Between two balls and the planes z = 0 and z = f: the terms in z^2 take each other away (Archimedes' sphere).
    const exact = 8 * Math.PI * ((r + 20) ** 2 - (r + 6) ** 2);
    // The wall runs along chords: of 48 points, 1 - cos(pi / 48) = 0.2 %; the mesh's own, less.
    for (const piece of result.pieces) expectCovered(piece.flange, exact, { deviationMm3: 0.002 * exact });
    expectSums(result);
  });
});

describe('on the board', () => {
  it('a half sphere open underneath equals the capped one, and half of the layer of the whole', async () => {
    const open = openHalfSphere(40, 20);
    const capped = withFloor(open);
    const shape = { coatsMm: [3, 5], scan: { board: 0 as const } };
    const [first, second] = [
      await planShape(open, shape, { resolution: 2 }),
      await planShape(capped, shape, { resolution: 2 }),
    ];
    // Same surface above the board, so the same cells.
    expect(Math.abs(first.shell.volumeMm3 / second.shell.volumeMm3 - 1)).toBeLessThan(ROUNDING_SHARE);
    expect(first.rubber.areaMm2).toBeCloseTo(second.rubber.areaMm2, 6);
    expect(first.rubber.volumeMm3 ?? 0).toBeCloseTo(second.rubber.volumeMm3 ?? 1, 4);
    const whole = steinerOf(octasphere(40, 20));
    expectCovered(first.shell, layerVolume(whole, 8) / 2);
    expectCovered(first.pieces[0].coats[0], layerVolume(whole, 3) / 2);
    // W27 of the worked examples scaled: centre of mass of a half shell, 3 (R^4 - r^4) / (8 (R^3 - r^3)) over its rim.
    const [R, r] = [48, 40];
    const height = (3 * (R ** 4 - r ** 4)) / (8 * (R ** 3 - r ** 3));
    // Facets lie inside by at most 0.06 mm; a bound of a few parts in a thousand of the volume moves it less than 0.1.
    expect(Math.abs(first.pieces[0].centreOfMassMm[2] - height)).toBeLessThan(0.16);
  });
});

/** The open rim on z = 0 closed by a fan about the origin. */
function withFloor(mesh: TriMesh): TriMesh {
  const indices = Array.from(mesh.indices);
  const edges = new Set<string>();
  for (let h = 0; h < indices.length; h++) edges.add(`${indices[h]},${indices[h % 3 === 2 ? h - 2 : h + 1]}`);
  const centre = mesh.positions.length / 3;
  for (const edge of edges) {
    const [from, to] = edge.split(',').map(Number);
    if (!edges.has(`${to},${from}`)) indices.push(to, from, centre);
  }
  return {
    positions: Float64Array.from([...mesh.positions, 0, 0, 0]),
    indices: Uint32Array.from(indices),
  };
}

/** Pieces add up to the shell, coats and flange to their piece: to the rounding of sums. */
function expectSums(result: Awaited<ReturnType<typeof planShape>>): void {
  const total = (list: readonly number[]): number => list.reduce((sum, x) => sum + x, 0);
  const same = (x: number, y: number): void =>
    expect(Math.abs(x - y)).toBeLessThanOrEqual(ROUNDING_SHARE * Math.abs(y));
  same(total(result.pieces.map((piece) => piece.volumeMm3)), result.shell.volumeMm3);
  same(total(result.pieces.map((piece) => piece.massG)), result.shell.massG);
  for (const piece of result.pieces) {
    same(total(piece.coats.map((coat) => coat.volumeMm3)) + piece.flange.volumeMm3, piece.volumeMm3);
    same(total(piece.coats.map((coat) => coat.massG)) + piece.flange.massG, piece.massG);
  }
}

it('pieces sum to the whole that one piece has', async () => {
  const mesh = octasphere(30, 16);
  const whole = await planShape(mesh, { coatsMm: [2, 4] }, { resolution: 2 });
  const parted = await planShape(
    mesh,
    { coatsMm: [2, 4], parting: { lines: [circle(30, 9)] } },
    { resolution: 2 },
  );
  expect(parted.pieces).toHaveLength(2);
  expect(Math.abs(parted.shell.volumeMm3 / whole.shell.volumeMm3 - 1)).toBeLessThan(ROUNDING_SHARE);
  for (const n of [0, 1]) {
    const sum = parted.pieces.reduce((total, piece) => total + piece.coats[n].volumeMm3, 0);
    expect(Math.abs(sum / whole.pieces[0].coats[n].volumeMm3 - 1)).toBeLessThan(ROUNDING_SHARE);
  }
  expectSums(parted);
});

describe('flange round the sharp edges of a box of twelve triangles', () => {
  // Up one side, over the top and down the other, beside the middle, so that it runs along no edge of the mesh.
  it.each([
    [5, 20],
    [12, 17.3],
  ])('%i mm thick, parted %d mm off the near side', async (thickness, y) => {
    const [a, b, c, d, w] = [100, 80, 120, 10, 40];
    const points: Vec3[] = [
      [0, y, 0],
      [0, y, c],
      [a, y, c],
      [a, y, 0],
    ];
    const result = await planShape(
      box(a, b, c),
      {
        scan: { board: 0 },
        coatsMm: [d],
        parting: { pieceCount: 2, lines: [{ id: 'over', points, closed: false }] },
        flange: { widthMm: w, thicknessMm: thickness },
      },
      { until: 'amounts' },
    );
    expect(result.pieces).toHaveLength(2);
    // Three flats and a quarter ring round each of the two edges, between d and w from the box. Own arithmetic.
    const exact = thickness * ((2 * c + a) * (w - d) + 2 * (Math.PI / 4) * (w ** 2 - d ** 2));
    for (const { flange } of result.pieces) expectCovered(flange, exact, { worthShare: 0.02 });
  });
});
