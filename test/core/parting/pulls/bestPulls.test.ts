import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import { prepareScan } from '../../../../src/core/mesh/prepareScan.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import type { PullsResult } from '../../../../src/core/PlanResult.ts';
import { planParting } from '../../../../src/core/parting/planParting.ts';
import { bestPulls } from '../../../../src/core/parting/pulls/bestPulls.ts';
import { chartPulls } from '../../../../src/core/parting/pulls/chartPulls.ts';
import { directionGrid } from '../../../../src/core/parting/pulls/directionGrid.ts';
import { measureFaces } from '../../../../src/core/parting/pulls/FaceMeasures.ts';
import { labelFaces } from '../../../../src/core/parting/pulls/labelFaces.ts';
import { simplifySurface } from '../../../../src/core/parting/pulls/simplifySurface.ts';
import { sweepFaces } from '../../../../src/core/parting/pulls/sweepFaces.ts';
import { regionOfVerts } from '../../../../src/core/parting/regionOfVerts.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import { openMesh } from '../../../../src/io/openMesh.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { cylinder, moved, octasphere, torus, turned } from '../../../fixtures/shapes.ts';

const STEP_DEG = 10;

function labelBy(mesh: TriMesh, regionOf: (x: number, y: number, z: number) => number): Int32Array {
  const { positions: p, indices } = mesh;
  return Int32Array.from({ length: indices.length / 3 }, (_, t) => {
    const middle = [0, 1, 2].map(
      (k) => (p[3 * indices[3 * t] + k] + p[3 * indices[3 * t + 1] + k] + p[3 * indices[3 * t + 2] + k]) / 3,
    );
    return regionOf(middle[0], middle[1], middle[2]);
  });
}

async function pullsOf(
  mesh: TriMesh,
  labels: Int32Array,
  pulls: readonly Vec3[],
  standsOnBoard: boolean,
  giveMm = 0.5,
): Promise<PullsResult[]> {
  const directions = directionGrid(standsOnBoard, STEP_DEG);
  const sweep = await sweepFaces(mesh, directions, new Checkpoint(), standsOnBoard);
  const input = { mesh, labels, pulls, giveMm, standsOnBoard, directions, stepDeg: STEP_DEG, sweep };
  return bestPulls(input, new Checkpoint());
}

async function chartOf(mesh: TriMesh, of: 'mould' | number, labels: Int32Array, standsOnBoard: boolean) {
  const directions = directionGrid(standsOnBoard, STEP_DEG);
  const sweep = await sweepFaces(mesh, directions, new Checkpoint(), standsOnBoard);
  return chartPulls({ mesh, labels, of, directions, stepDeg: STEP_DEG, sweep, standsOnBoard });
}

const angleDeg = (a: Vec3, b: Vec3): number =>
  (Math.acos(Math.min(1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])) * 180) / Math.PI;

/** A pyramid cut level, base 2a square, walls leaning in by the draft; stands on z = 0, its base left out. */
function draftedBox(a: number, height: number, draftDeg: number): TriMesh {
  const b = a - height * Math.tan((draftDeg * Math.PI) / 180);
  const corners = [-1, -1, 1, -1, 1, 1, -1, 1];
  const positions: number[] = [];
  for (let i = 0; i < 4; i++) positions.push(a * corners[2 * i], a * corners[2 * i + 1], 0);
  for (let i = 0; i < 4; i++) positions.push(b * corners[2 * i], b * corners[2 * i + 1], height);
  const indices: number[] = [4, 5, 6, 4, 6, 7];
  for (let i = 0; i < 4; i++) {
    const j = (i + 1) % 4;
    indices.push(i, j, 4 + j, i, 4 + j, 4 + i);
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** A bar along y whose cross section is a dovetail: wider at the top than at the foot, on z = 0. */
function dovetail(): TriMesh {
  const section = [
    [10, 0],
    [20, 20],
    [-20, 20],
    [-10, 0],
  ];
  const positions: number[] = [];
  const steps = 12;
  for (let s = 0; s <= steps; s++) {
    for (const [x, z] of section) positions.push(x, -50 + (100 * s) / steps, z);
  }
  const indices: number[] = [];
  for (let s = 0; s < steps; s++) {
    for (let k = 0; k < 4; k++) {
      const a = 4 * s + k;
      const b = 4 * s + ((k + 1) % 4);
      indices.push(a, b, b + 4, a, b + 4, a + 4);
    }
  }
  const end = 4 * steps;
  indices.push(0, 2, 1, 0, 3, 2, end, end + 1, end + 2, end, end + 2, end + 3);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices.reverse()) };
}

describe('bestPulls', () => {
  it('of a cap of a sphere is its axis, with 90 degrees less the half angle as draft', async () => {
    const axis: Vec3 = [0.6, 0, 0.8];
    const mesh = octasphere(50, 30);
    const half = 50;
    const inCap = Math.cos((half * Math.PI) / 180);
    const labels = labelBy(mesh, (x, y, z) =>
      (x * axis[0] + y * axis[1] + z * axis[2]) / Math.hypot(x, y, z) > inCap ? 0 : -1,
    );
    const [found] = await pullsOf(mesh, labels, [[0, 0, 1]], false);
    // The cap's border runs along whole faces of 3 degrees, so that the cap is ragged by as much.
    expect(angleDeg(found.best.pull, axis)).toBeLessThan(3);
    expect(Math.abs(found.best.leastDraftDeg - (90 - half))).toBeLessThan(3);
    expect(found.best.maxDepthMm).toBe(0);
    expect(found.present.pull).toEqual([0, 0, 1]);
    // Pulled up, the cap's lowest face leans by 90 - 50 - 36.9 degrees.
    expect(Math.abs(found.present.leastDraftDeg - (90 - half - 36.87))).toBeLessThan(3);
    // Every direction within 90 - half of the axis clears it, none much beyond.
    const isNear = (d: Vec3, deg: number): boolean => angleDeg(d, axis) < deg;
    const directions = directionGrid(false, STEP_DEG);
    for (let i = 0; i < directions.length; i += 3) {
      const d: Vec3 = [directions[i], directions[i + 1], directions[i + 2]];
      if (isNear(d, 90 - half - 2)) expect(found.clearing).toContainEqual(d);
    }
    // Beyond by b degrees the border locks R (1 - cos b) deep: the give of 0.5 mm, or a pixel of 0.68, at 9.5 degrees.
    for (const d of found.clearing) expect(isNear(d, 90 - half + 12)).toBe(true);
  });

  it.each([3, 10])('of a box with %i degrees of draft is straight up, with that draft', async (draftDeg) => {
    const mesh = draftedBox(40, 60, draftDeg);
    const [found] = await pullsOf(
      mesh,
      labelBy(mesh, () => 0),
      [[1, 0, 0]],
      true,
    );
    expect(angleDeg(found.best.pull, [0, 0, 1])).toBeLessThan(1e-4);
    expect(found.best.leastDraftDeg).toBeCloseTo(draftDeg, 9);
    expect(found.best).toMatchObject({ areaMm2: 0, maxDepthMm: 0, fillerMm3: 0 });
    // Pulled sideways the far wall locks by all the width at its foot, save what the raster rounds.
    expect(found.present.maxDepthMm).toBeGreaterThan(20);
  });

  it('of a cone that stands on its base is its axis, with the half angle as draft', async () => {
    const mesh = cylinder(30, 80, 48);
    const positions = mesh.positions.slice();
    for (let v = 0; v < positions.length / 3; v++) {
      const shrink = positions[3 * v + 2] > 0 ? 0.02 : 1;
      positions[3 * v] *= shrink;
      positions[3 * v + 1] *= shrink;
    }
    const cone = { positions, indices: mesh.indices };
    const labels = labelBy(cone, (_x, _y, z) => (z > 0 ? 0 : -1));
    const [found] = await pullsOf(cone, labels, [[0, 0, 1]], true);
    // Flat faces of a regular polygon of 48 sides stand nearer to the axis by cos(pi / 48).
    const draft = Math.atan((0.98 * 30 * Math.cos(Math.PI / 48)) / 80);
    expect(found.best.leastDraftDeg).toBeCloseTo((draft * 180) / Math.PI, 6);
    expect(angleDeg(found.best.pull, [0, 0, 1])).toBeLessThan(1e-4);
  });

  it('a dovetail is locked upward and free along its length', async () => {
    const mesh = dovetail();
    // The sides and the top: the end at +y too, so that it has to leave that way.
    const labels = labelBy(mesh, (_x, y, z) => (z > 0.01 && y > -49.9 ? 0 : -1));
    const [found] = await pullsOf(mesh, labels, [[0, 0, 1]], true);
    // The walls lean out by 10 mm over their height; the middles of their faces lie a third from top or foot.
    expect(found.present.maxDepthMm).toBeGreaterThan(5);
    expect(found.present.maxDepthMm).toBeLessThan(11);
    expect(angleDeg(found.best.pull, [0, 1, 0])).toBeLessThan(1);
    expect(found.best.maxDepthMm).toBeLessThan(0.5);
    expect(found.clearing.length).toBeGreaterThan(0);
    for (const d of found.clearing) expect(angleDeg(d, [0, 1, 0])).toBeLessThan(8);
  });

  it('a mushroom of one piece: no pull clears it, the least depth is found', async () => {
    const cap = moved(octasphere(30, 24), [0, 0, 60]);
    const [found] = await pullsOf(
      cap,
      labelBy(cap, () => 0),
      [[0, 0, 1]],
      true,
    );
    expect(found.clearing).toEqual([]);
    // A ball locks by all of its radius whatever the pull, less what faces of 3 degrees and pixels round off.
    expect(found.best.maxDepthMm).toBeGreaterThan(27);
    expect(found.best.maxDepthMm).toBeLessThanOrEqual(31);
  });

  it('filler of a ball covered to 30 degrees below its equator is that over a flat wall', async () => {
    const mesh = octasphere(50, 60);
    const low = -50 * Math.sin(Math.PI / 6);
    const labels = labelBy(mesh, (_x, _y, z) => (z > low ? 0 : -1));
    const [found] = await pullsOf(mesh, labels, [[0, 0, 1]], false);
    // pi R^3 sin^3(a) / 3, to the ragged border of faces of 1.5 degrees.
    const exact = (Math.PI * 50 ** 3 * 0.125) / 3;
    expect(Math.abs(found.present.fillerMm3 / exact - 1)).toBeLessThan(0.06);
    const depth = 50 * (1 - Math.cos(Math.PI / 6));
    expect(Math.abs(found.present.maxDepthMm - depth)).toBeLessThan(1.5);
  });

  it('is not beaten by the best of 200 random directions; seed 8', async () => {
    // Published searches sample directions and keep the least hidden one (Alderighi et al. 2019, by area).
    const ball = octasphere(50, 14);
    const positions = ball.positions.map((x, i) => {
      const at = i - (i % 3);
      return x * (1 + 0.2 * Math.sin(ball.positions[at] * 0.09) * Math.cos(ball.positions[at + 2] * 0.12));
    });
    const mesh = { positions, indices: ball.indices };
    const random = seededRandom(8);
    const directions = Float32Array.from(
      Array.from({ length: 200 }, () => {
        const z = 2 * random() - 1;
        const a = 2 * Math.PI * random();
        return [Math.sqrt(1 - z * z) * Math.cos(a), Math.sqrt(1 - z * z) * Math.sin(a), z];
      }).flat(),
    );
    const sweep = await sweepFaces(mesh, directions, new Checkpoint(), false);
    for (const least of [20, 0, -20]) {
      const labels = labelBy(mesh, (x, _y, z) => (0.6 * x + 0.8 * z > least ? 0 : -1));
      const [found] = await pullsOf(mesh, labels, [[0, 0, 1]], false);
      let leastDepth = Infinity;
      for (let i = 0; i < 200; i++) {
        let depth = 0;
        for (let t = 0; t < sweep.faceCount; t++) {
          if (labels[t] === 0) depth = Math.max(depth, sweep.depthMm[i * sweep.faceCount + t]);
        }
        leastDepth = Math.min(leastDepth, depth);
      }
      // Below what the rubber yields (0.5 mm) or a pixel, depth is no longer what is sought.
      const enough = Math.max(0.5, sweep.pixelMm);
      expect(found.best.maxDepthMm).toBeLessThanOrEqual(Math.max(enough, leastDepth + sweep.pixelMm / 2));
    }
  });

  it('the outside of the goblet in two halves clears sideways, never upward', async () => {
    const bytes = readFileSync(new URL('../../../fixtures/goblet.stl', import.meta.url));
    const { mesh } = await openMesh(new Uint8Array(bytes), 'goblet.stl');
    const plan = newPlan('goblet.stl');
    const scan = await prepareScan(mesh, plan.scan, [], new Checkpoint());
    const surface = new SurfaceContext(scan);
    const parting = await planParting(surface, plan.parting, new Checkpoint());
    const simple = await simplifySurface(surface, 4000);
    const labels = labelFaces(simple, surface, parting.cut, regionOfVerts(surface, parting.cut));
    expect(new Set(labels)).toEqual(new Set([0, 1]));
    // The inside of the cup (above the foot, looking at the axis or up) is left out, as a mould-maker would cast it apart.
    const { normals, middles } = measureFaces(simple.scan.mesh);
    const outside = labels.map((region, t) => {
      const [x, y, z] = middles.subarray(3 * t, 3 * t + 3);
      const outward = (normals[3 * t] * x + normals[3 * t + 1] * y) / Math.hypot(x, y);
      return z > 0.2 * scan.heightMm && outward < 0.1 ? -1 : region;
    });
    const pulls = parting.pieces.map((piece) => piece.pull);
    const level = await pullsOf(simple.scan.mesh, outside, pulls, true, 1.5);
    const directions = Float32Array.of(0, 0, 1);
    const sweep = await sweepFaces(simple.scan.mesh, directions, new Checkpoint(), true);
    for (let region = 0; region < 2; region++) {
      expect(level[region].present.maxDepthMm).toBeLessThan(1.5);
      expect(level[region].clearing.length).toBeGreaterThan(0);
      for (const d of level[region].clearing) expect(d[2]).toBeLessThan(0.75);
      const depths = [...sweep.depthMm].filter((_, t) => outside[t] === region);
      // The cup overhangs the stem by some 15 mm all round.
      expect(Math.max(...depths)).toBeGreaterThan(10);
    }
  });
});

describe('chartPulls', () => {
  it('a torus parts freely along its axis and locks across it', async () => {
    const axis: Vec3 = [0, 0.6, 0.8];
    const mesh = turned(torus(40, 10, 60, 24), [1, 0, 0], -Math.atan2(0.6, 0.8));
    const chart = await chartOf(mesh, 'mould', new Int32Array(0), false);
    const at = (i: number): Vec3 => [
      chart.directions[3 * i],
      chart.directions[3 * i + 1],
      chart.directions[3 * i + 2],
    ];
    const offAxis = (d: Vec3): number => Math.min(angleDeg(d, axis), 180 - angleDeg(d, axis));
    // Nothing hides anything until the far side of the hole is overtopped: cos(a) (R - r) = r at 70 degrees off the axis.
    expect(offAxis(at(chart.best[0]))).toBeLessThan(70);
    for (const i of chart.depthMm.keys()) if (offAxis(at(i)) < 50) expect(chart.depthMm[i]).toBeLessThan(1);
    const across = [...chart.depthMm.keys()].filter((i) => offAxis(at(i)) > 85);
    expect(across.length).toBeGreaterThan(10);
    // Across the axis the hole's wall has to get over the tube, 10 mm; tilted by 5 degrees, 60 sin(5 deg) = 5 less.
    for (const i of across) expect(chart.depthMm[i]).toBeGreaterThan(4);
    for (const a of chart.best) {
      for (const b of chart.best) {
        if (a !== b)
          expect(Math.min(angleDeg(at(a), at(b)), 180 - angleDeg(at(a), at(b)))).toBeGreaterThan(19.9);
      }
    }
  });

  it('a sphere parts freely whatever the pair, and one way only half of it is free', async () => {
    const mesh = octasphere(50, 30);
    const pair = await chartOf(mesh, 'mould', new Int32Array(0), false);
    // Faces across the equator are at most 3 degrees past it: R (1 - cos 3 deg).
    for (const depth of pair.depthMm) expect(depth).toBeLessThan(0.4);
    const labels = labelBy(mesh, () => 0);
    const single = await chartOf(mesh, 0, labels, false);
    const half = 2 * Math.PI * 50 ** 2;
    for (const area of single.areaMm2) expect(Math.abs(area / half - 1)).toBeLessThan(0.05);
    for (const depth of single.depthMm) expect(Math.abs(depth - 50)).toBeLessThan(3);
  });

  it('on a board a pair is one of opposite azimuths at the same tilt', async () => {
    const mesh = draftedBox(40, 60, 10);
    const chart = await chartOf(mesh, 'mould', new Int32Array(0), true);
    const n = chart.directions.length / 3;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const isPair =
          Math.abs(chart.directions[3 * i] + chart.directions[3 * j]) < 1e-6 &&
          Math.abs(chart.directions[3 * i + 1] + chart.directions[3 * j + 1]) < 1e-6 &&
          Math.abs(chart.directions[3 * i + 2] - chart.directions[3 * j + 2]) < 1e-6;
        if (isPair) expect(chart.areaMm2[i]).toBe(chart.areaMm2[j]);
      }
    }
    expect(chart.areaMm2[n - 1]).toBe(0);
  });
});
