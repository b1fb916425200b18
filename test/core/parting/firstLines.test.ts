import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { PlanError } from '../../../src/core/errors.ts';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { cutSurface } from '../../../src/core/parting/cutSurface.ts';
import { firstLines } from '../../../src/core/parting/firstLines.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { measureRegions, type RegionFacing } from '../../../src/core/parting/measureRegions.ts';
import { nameRegions } from '../../../src/core/parting/nameRegions.ts';
import { pullForRegions } from '../../../src/core/parting/pullForRegions.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { SurfaceDiffusion } from '../../../src/core/parting/SurfaceDiffusion.ts';
import type { CutSurface, SurfacePath } from '../../../src/core/parting/types.ts';
import type { PartingLinePlan, PartingPlan } from '../../../src/core/plan/PlanDocument.ts';
import { octasphere, openHalfSphere, scaled, torus } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

const boardContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, true));
const closedContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, false));

function cutAlong(
  surface: SurfaceContext,
  lines: readonly PartingLinePlan[],
): { cut: CutSurface; paths: SurfacePath[] } {
  const paths: SurfacePath[] = [];
  for (const line of lines) paths.push(joinAlongSurface(surface, line.points, line.closed, paths));
  return { cut: cutSurface(surface, paths), paths };
}

const planWith = (changes: Partial<PartingPlan>): PartingPlan => ({
  pieceCount: 2,
  pullAzimuthsDeg: 'auto',
  lines: 'auto',
  pieces: [],
  flange: null,
  rubberGiveMm: 1.5,
  notHere: [],
  blockOut: [],
  ...changes,
});

const dome = openHalfSphere(50, 24);
const long = scaled(dome, [2, 1, 1.4]);

describe('firstLines', () => {
  // By symmetry the silhouette of a dome seen along a horizontal pull is the arc in the plane square to it.
  it('runs along the silhouette of a dome, for every pull', async () => {
    const surface = boardContext(dome);
    for (const deg of [0, 17, 45, 90, 200, 301]) {
      const { lines, pulls } = await firstLines(surface, [deg], 2, new Checkpoint());
      expect(lines.length).toBe(1);
      expect(lines[0].closed).toBe(false);
      expect(lines[0].points.length).toBeGreaterThanOrEqual(8);
      expect(lines[0].points.length).toBeLessThanOrEqual(24);
      const { cut, paths } = cutAlong(surface, lines);
      expect(cut.regionCount).toBe(2);
      const q = paths[0].points;
      for (let i = 0; i < q.length; i += 3) {
        // Within a mesh edge, which is 50 pi / 48 = 3.3 mm.
        expect(Math.abs(q[i] * pulls[0][0] + q[i + 1] * pulls[0][1])).toBeLessThan(3.3);
      }
      expect(q[2]).toBe(0);
      expect(q[q.length - 1]).toBe(0);
    }
  });

  it('chooses to pull a long dome apart across its width', async () => {
    // The long body shows most area along y; cut along its length, least faces away on either side.
    const { pulls } = await firstLines(boardContext(long), 'auto', 2, new Checkpoint());
    expect(pulls[0][0] + pulls[1][0]).toBeCloseTo(0, 12);
    expect(pulls[0][1] + pulls[1][1]).toBeCloseTo(0, 12);
  });

  it('finds pulls that all of a convex scan faces, smoothed in clumps of triangles too', async () => {
    const mesh = scaled(openHalfSphere(50, 280), [2, 1, 1.4]);
    const surface = boardContext(mesh);
    expect(surface.vertCount).toBeGreaterThan(150_000);
    const { lines, pulls } = await firstLines(surface, 'auto', 2, new Checkpoint());
    const { cut, paths } = cutAlong(surface, lines);
    expect(cut.regionCount).toBe(2);
    // Convex and cut by its own silhouette: the line lies where the surface stands square to the pull.
    const [x, y] = pulls[0];
    const q = paths[0].points;
    for (let i = 0; i < q.length; i += 3) {
      expect(Math.abs((x * q[i]) / 4 + y * q[i + 1])).toBeLessThan(0.01 * surface.diagonalMm);
    }
  });

  it('is the same each time', async () => {
    const one = await firstLines(boardContext(long), 'auto', 3, new Checkpoint());
    const two = await firstLines(boardContext(long), 'auto', 3, new Checkpoint());
    expect(two).toEqual(one);
  });

  it('makes three and four pieces with T junctions', async () => {
    for (const count of [3, 4]) {
      const surface = boardContext(dome);
      const { lines, pulls } = await firstLines(surface, [10], count, new Checkpoint());
      expect(lines.length).toBe(count - 1);
      const { cut } = cutAlong(surface, lines);
      expect(cut.regionCount).toBe(count);
      const areas = measureRegions(surface, cut).map((region) => region.areaMm2);
      const total = areas.reduce((a, b) => a + b);
      // Equal sectors by symmetry; the rounding of the junction takes some from one and gives it to another.
      for (const area of areas) expect(Math.abs(area / total - 1 / count)).toBeLessThan(0.04);
      const named = nameRegions(surface, cut, planWith({ pieceCount: count }), pulls);
      for (const [i, facing] of measureRegions(surface, cut).entries()) {
        const a = facing.areaVector;
        expect(a[0] * named[i].pull[0] + a[1] * named[i].pull[1]).toBeGreaterThan(0);
      }
    }
  });

  it('closes the line on a body without a board', async () => {
    const surface = closedContext(octasphere(50, 20));
    const { lines } = await firstLines(surface, [30], 2, new Checkpoint());
    expect(lines.map((line) => line.closed)).toEqual([true]);
    expect(cutAlong(surface, lines).cut.regionCount).toBe(2);
  });

  it('lays a line round the eye of a ring as well', async () => {
    // A ring lying flat, pulled sideways: its halves meet in two lines round the tube, or round and through the eye.
    const surface = closedContext(torus(40, 12, 64, 32));
    const { lines } = await firstLines(surface, [0], 2, new Checkpoint());
    expect(lines.every((line) => line.closed)).toBe(true);
    expect(cutAlong(surface, lines).cut.regionCount).toBe(2);
  });

  it('passes an unfilled hole', async () => {
    const fine = openHalfSphere(50, 32);
    const kept: number[] = [];
    for (let t = 0; t < fine.indices.length; t += 3) {
      const near = [0, 1, 2].some((k) => {
        const v = 3 * fine.indices[t + k];
        return Math.hypot(fine.positions[v] - 2, fine.positions[v + 1], fine.positions[v + 2] - 50) < 5;
      });
      if (!near) kept.push(...fine.indices.subarray(t, t + 3));
    }
    const surface = boardContext({ positions: fine.positions, indices: Uint32Array.from(kept) });
    expect(surface.holeOfVertex.size).toBeGreaterThan(3);
    const { lines } = await firstLines(surface, [0], 2, new Checkpoint());
    expect(lines.length).toBe(1);
    expect(cutAlong(surface, lines).cut.regionCount).toBe(2);
  });

  it('one piece needs no line', async () => {
    const { lines, pulls } = await firstLines(boardContext(dome), 'auto', 1, new Checkpoint());
    expect(lines).toEqual([]);
    expect(pulls).toEqual([[0, 0, 1]]);
  });

  it('refuses pulls that do not fit the pieces', async () => {
    await expect(firstLines(boardContext(dome), [0, 90], 3, new Checkpoint())).rejects.toMatchObject({
      name: 'PlanError',
      code: 'bad-pull',
    });
    await expect(firstLines(boardContext(dome), [Number.NaN], 2, new Checkpoint())).rejects.toMatchObject({
      code: 'bad-pull',
    });
    await expect(firstLines(boardContext(dome), 'auto', 2.5, new Checkpoint())).rejects.toMatchObject({
      code: 'bad-plan',
    });
  });

  it('stops when it is cancelled', async () => {
    const abort = new AbortController();
    abort.abort();
    const run = firstLines(boardContext(dome), 'auto', 2, new Checkpoint(() => {}, abort.signal));
    await expect(run).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('SurfaceDiffusion', () => {
  // On a sphere of radius R the coordinates are eigenfunctions of the Laplacian with eigenvalue 2/R^2 (spherical
  // harmonics of degree 1), so spreading x over the length l divides it by 1 + 2 l^2/R^2.
  it('damps the first spherical harmonic as it must', async () => {
    const graph = new SurfaceDiffusion(closedContext(octasphere(50, 40)));
    const right = new Float64Array(graph.count);
    for (let v = 0; v < graph.count; v++) right[v] = graph.areas[v] * graph.positions[3 * v];
    for (const length of [5, 20]) {
      const u = await graph.spread(right, length, new Checkpoint());
      const factor = 1 / (1 + (2 * length * length) / 2500);
      let worst = 0;
      for (let v = 0; v < graph.count; v++) {
        worst = Math.max(worst, Math.abs(u[v] - factor * graph.positions[3 * v]));
      }
      // The solver stops early on purpose; 2 % of the amplitude moves a zero line by 1 mm on R = 50.
      expect(worst / 50).toBeLessThan(0.02);
    }
  });

  it('keeps the integral', async () => {
    const graph = new SurfaceDiffusion(boardContext(long));
    const right = new Float64Array(graph.count);
    let before = 0;
    for (let v = 0; v < graph.count; v++) {
      right[v] = graph.areas[v] * (1 + (graph.positions[3 * v] > 20 ? 1 : 0));
      before += right[v];
    }
    const u = await graph.spread(right, 15, new Checkpoint());
    let after = 0;
    for (let v = 0; v < graph.count; v++) after += graph.areas[v] * u[v];
    expect(Math.abs(after / before - 1)).toBeLessThan(0.01);
  });
});

describe('nameRegions and pullForRegions', () => {
  const line: Vec3[] = [
    [0, -50, 0],
    [0.3, 0, 50],
    [0, 50, 0],
  ];
  const surface = boardContext(dome);
  const cut = cutSurface(surface, [joinAlongSurface(surface, line, false)]);

  it('pulls two halves exactly apart along what they face', () => {
    const named = nameRegions(
      surface,
      cut,
      planWith({ lines: [{ id: 'a', points: line, closed: false }] }),
      null,
    );
    expect(named.map((piece) => piece.id)).toEqual(['A', 'B']);
    expect(named.map((piece) => piece.name).sort()).toEqual(['left', 'right']);
    const right = named.find((piece) => piece.name === 'right')!;
    const left = named.find((piece) => piece.name === 'left')!;
    expect(right.pull[0]).toBeGreaterThan(0.999);
    expect(right.pull[2]).toBe(0);
    for (const k of [0, 1]) expect(left.pull[k]).toBe(-right.pull[k]);
  });

  it('takes name and pull of the piece whose anchor lies in the region', () => {
    const plan = planWith({
      pieces: [
        { anchorMm: [40, 5, 30], name: 'door side', pull: [2, 0, 2] },
        { anchorMm: [-40, 5, 30], name: 'wall side', pull: null },
      ],
    });
    const named = nameRegions(surface, cut, plan, null);
    const door = named.find((piece) => piece.name === 'door side')!;
    expect(door.pull[0]).toBeCloseTo(Math.SQRT1_2, 12);
    expect(door.pull[2]).toBeCloseTo(Math.SQRT1_2, 12);
    const facing = measureRegions(surface, cut)[named.indexOf(door)];
    expect(facing.areaVector[0]).toBeGreaterThan(0);
    expect(named.some((piece) => piece.name === 'wall side')).toBe(true);
  });

  it('refuses a pull without a direction', () => {
    const plan = planWith({ pieces: [{ anchorMm: [40, 5, 30], name: '', pull: [0, 0, 0] }] });
    expect(() => nameRegions(surface, cut, plan, null)).toThrowError(PlanError);
  });

  it('lifts a cap that does not touch the board, and tells which touches it', () => {
    const ring = Array.from({ length: 24 }, (_, i): Vec3 => {
      const u = (2 * Math.PI * i) / 24;
      return [30 * Math.cos(u), 30 * Math.sin(u), 40];
    });
    const capped = cutSurface(surface, [
      joinAlongSurface(surface, ring, true),
      joinAlongSurface(
        surface,
        [
          [0, -50, 0],
          [0, -40, 30],
          [0, -30, 40],
        ],
        false,
        [joinAlongSurface(surface, ring, true)],
      ),
      joinAlongSurface(
        surface,
        [
          [0, 50, 0],
          [0, 40, 30],
          [0, 30, 40],
        ],
        false,
        [joinAlongSurface(surface, ring, true)],
      ),
    ]);
    expect(capped.regionCount).toBe(3);
    const facings = measureRegions(surface, capped);
    expect(facings.filter((facing) => facing.touchesBoard).length).toBe(2);
    const named = nameRegions(surface, capped, planWith({ pieceCount: 3 }), null);
    expect(named.map((piece) => piece.name).sort()).toEqual(['left', 'right', 'top']);
  });

  it('pulls a lone region up, and three sides along their means', () => {
    const side = (x: number, y: number): RegionFacing => ({
      areaMm2: 100,
      areaVector: [60 * x, 60 * y, 20],
      centreMm: [0, 0, 0],
      touchesBoard: true,
    });
    expect(pullForRegions([side(1, 0)], true)).toEqual([[0, 0, 1]]);
    const pulls = pullForRegions([side(1, 0), side(-0.6, 0.8), side(0, -1)], true);
    expect(pulls[0]).toEqual([1, 0, 0]);
    expect(pulls[1][0]).toBeCloseTo(-0.6, 12);
    expect(pulls[2][1]).toBeCloseTo(-1, 12);
  });

  it('pulls two halves of a body that touches its board nowhere apart, and lifts a cap off two that do', () => {
    const half = (x: number, z: number, touchesBoard: boolean): RegionFacing => ({
      areaMm2: 100,
      areaVector: [60 * x, 0, 80 * z],
      centreMm: [0, 0, 0],
      touchesBoard,
    });
    expect(pullForRegions([half(1, 0, false), half(-1, 0, false)], true)).toEqual([
      [1, 0, 0],
      [-1, 0, 0],
    ]);
    expect(pullForRegions([half(1, 0, true), half(-1, 0, true), half(0.1, 1, false)], true)[2]).toEqual([
      0, 0, 1,
    ]);
  });
});
