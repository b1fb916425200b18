import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import type { PryingResult } from '../../../../src/core/PlanResult.ts';
import { bestPulls } from '../../../../src/core/parting/pulls/bestPulls.ts';
import { directionGrid } from '../../../../src/core/parting/pulls/directionGrid.ts';
import { pryEdges } from '../../../../src/core/parting/pulls/pryEdges.ts';
import { pryPieces } from '../../../../src/core/parting/pulls/pryPieces.ts';
import { RubberDepth } from '../../../../src/core/parting/pulls/RubberDepth.ts';
import { sweepFaces } from '../../../../src/core/parting/pulls/sweepFaces.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { box, moved, octasphere, torus } from '../../../fixtures/shapes.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

const STEP_DEG = 15;

/** Pries the part of a mesh that `isOwn` tells by the middles of faces; the mesh is all the rubber there is. */
async function pry(
  mesh: TriMesh,
  isOwn: (x: number, y: number, z: number) => boolean,
  pull: Vec3,
  standsOnBoard: boolean,
  giveMm: number,
): Promise<PryingResult> {
  const surface = new SurfaceContext(preparedFromMesh(mesh, standsOnBoard));
  const { positions: p, indices } = mesh;
  const labels = Int32Array.from({ length: indices.length / 3 }, (_, t) => {
    const middle = [0, 1, 2].map(
      (k) => (p[3 * indices[3 * t] + k] + p[3 * indices[3 * t + 1] + k] + p[3 * indices[3 * t + 2] + k]) / 3,
    );
    return isOwn(middle[0], middle[1], middle[2]) ? 0 : -1;
  });
  const directions = directionGrid(standsOnBoard, STEP_DEG);
  const sweep = await sweepFaces(mesh, directions, new Checkpoint(), standsOnBoard);
  const input = { mesh, labels, pulls: [pull], giveMm, standsOnBoard, directions, stepDeg: STEP_DEG, sweep };
  const found = await bestPulls(input, new Checkpoint());
  const [result] = await pryPieces(
    {
      surface,
      labels,
      chains: [],
      names: ['A'],
      pulls: [pull],
      found,
      giveMm,
      pixelMm: sweep.pixelMm,
      shellMm: 8,
    },
    new Checkpoint(),
  );
  return result;
}

/** A tube bent along a circle about the y axis, its foot on the board z = 0, its tip closed. */
function bentHorn(radius: number, tube: number, fromDeg: number, toDeg: number): TriMesh {
  const rings = 40;
  const sides = 24;
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i <= rings; i++) {
    const a = ((fromDeg + ((toDeg - fromDeg) * i) / rings) * Math.PI) / 180;
    for (let j = 0; j < sides; j++) {
      const b = (2 * Math.PI * j) / sides;
      const r = radius + tube * Math.cos(b);
      positions.push(r * Math.cos(a), tube * Math.sin(b), r * Math.sin(a));
      if (i === rings) continue;
      const at = i * sides + j;
      const next = i * sides + ((j + 1) % sides);
      indices.push(at, next, next + sides, at, next + sides, at + sides);
    }
  }
  // The tip is closed by a fan; the foot stays open on the board.
  const tip = positions.length / 3;
  const a = (toDeg * Math.PI) / 180;
  positions.push(radius * Math.cos(a), 0, radius * Math.sin(a));
  for (let j = 0; j < sides; j++) indices.push(rings * sides + j, rings * sides + ((j + 1) % sides), tip);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

describe('pryPieces', () => {
  it('asks for nothing where a straight pull clears', async () => {
    const result = await pry(octasphere(40, 16), (_x, _y, z) => z > 0, [0, 0, 1], false, 1);
    expect(result).toMatchObject({ frees: 'pull', axis: null, turnDeg: 0 });
  });

  it('a sphere covered to 50 degrees below its equator slides when it turns, and nothing takes it off', async () => {
    const result = await pry(octasphere(40, 20), (_x, _y, z) => z > -30.6, [0, 0, 1], false, 0.5);
    expect(result.frees).toBe('slide');
    expect(result.worstMm).toBeLessThan(1);
    // The axis runs through the centre.
    const { pointMm: q, direction: d } = result.axis!;
    const along = q[0] * d[0] + q[1] * d[1] + q[2] * d[2];
    expect(Math.hypot(...q.map((x, k) => x - along * d[k]))).toBeLessThan(1);
  });

  it('a sleeve three quarters round a ring slides along it about the axis', async () => {
    const isOwn = (x: number, y: number, z: number): boolean =>
      Math.abs(Math.atan2(y, x)) < 0.9 && (Math.hypot(x, y) > 40 - 7 || Math.abs(z) < 0);
    const result = await pry(torus(40, 12, 72, 24), isOwn, [1, 0, 0], false, 0.5);
    expect(result.frees).toBe('slide');
    const { pointMm: q, direction: d } = result.axis!;
    expect(Math.abs(d[2])).toBeGreaterThan(0.99);
    expect(Math.hypot(q[0], q[1])).toBeLessThan(4);
  });

  it('a box covered all round is locked', async () => {
    const result = await pry(moved(box(40, 30, 20), [0, 0, 5]), () => true, [0, 0, 1], false, 0.5);
    expect(result).toMatchObject({ frees: 'locked', axis: null });
    // The least bad turn still drives a corner in by half its arm of about 10 mm, times the sine of 4 degrees.
    expect(result.worstMm).toBeGreaterThan(0.5);
  });

  it('a cover over a short bent horn turns off about the axis of its bend; over a long one it only slides', async () => {
    // The horn rises from the board and bends over about the y axis, 60 mm away; its tube is 6 mm, the rubber yields 1.5 mm.
    const short = await pry(bentHorn(60, 6, 0, 30), () => true, [0, 0, 1], true, 1.5);
    // Along the chord a bend of 30 degrees holds by 60 (1 - cos 15 deg) = 2.04 mm; of 25 degrees left by 1.42.
    expect(short.frees).toBe('turn');
    expect(short.turnDeg).toBeGreaterThanOrEqual(2);
    const long = await pry(bentHorn(60, 6, 0, 80), () => true, [0, 0, 1], true, 1.5);
    expect(long.frees).toBe('slide');
    for (const { axis, worstMm } of [short, long]) {
      expect(Math.abs(axis!.direction[1])).toBeGreaterThan(0.999);
      expect(Math.hypot(axis!.pointMm[0], axis!.pointMm[2])).toBeLessThan(0.5);
      expect(worstMm).toBeLessThan(0.1);
    }
  });
});

describe('pryEdges', () => {
  const points = Float64Array.of(-20, -10, 0, 20, -10, 0, -20, -10, 60, 20, -10, 60, 0, -30, 30);

  it('names the foot, the top and the lines as seen from where the piece comes to', () => {
    const chain = (x: number) => ({
      path: 0,
      left: 0,
      right: 1,
      points: Float64Array.of(x, 0, 0, x, 0, 30, x, 0, 60),
      segments: Int32Array.of(0, 1),
      isClosed: false,
      lengthMm: 60,
    });
    const edges = pryEdges({
      points,
      region: 0,
      chains: [chain(-25), chain(25)],
      names: ['A', 'piece B'],
      pull: [0, -1, 0],
      shellMm: 8,
      standsOnBoard: true,
    });
    expect(edges.map((edge) => edge.name)).toEqual([
      'the foot',
      'the top edge',
      'the line to piece B on the left',
      'the line to piece B on the right',
    ]);
    const [foot, top, left] = edges;
    expect(foot.pointMm[1]).toBeCloseTo(-10 - 8, 9);
    expect(foot.pointMm[2]).toBe(0);
    expect(Math.abs(foot.direction[0])).toBeCloseTo(1, 12);
    expect(top.pointMm[2]).toBeCloseTo(68, 9);
    // Facing the piece from -y, left is -x.
    expect(left.pointMm[0]).toBe(-25);
    expect(Math.abs(left.direction[2])).toBeCloseTo(1, 12);
  });

  it('takes four sides where the pull goes up', () => {
    const edges = pryEdges({
      points,
      region: 0,
      chains: [],
      names: ['A'],
      pull: [0, 0, 1],
      shellMm: 0,
      standsOnBoard: true,
    });
    expect(edges.map((edge) => edge.name)).toEqual([
      'the foot in front',
      'the foot behind',
      'the foot on the left',
      'the foot on the right',
    ]);
  });
});

describe('RubberDepth', () => {
  it('is the distance to a box with its sign, near faces, edges and corners; seed 4', () => {
    const mesh = moved(box(40, 30, 20), [0, 0, 1]);
    const depth = new RubberDepth(new SurfaceContext(preparedFromMesh(mesh, false)));
    const random = seededRandom(4);
    for (let n = 0; n < 400; n++) {
      const p: Vec3 = [60 * random() - 10, 50 * random() - 10, 40 * random() - 10];
      // The exact signed distance of a box, after I. Quilez (from memory).
      const q = [Math.abs(p[0] - 20) - 20, Math.abs(p[1] - 15) - 15, Math.abs(p[2] - 11) - 10];
      const outside = Math.hypot(...q.map((x) => Math.max(x, 0)));
      const exact = outside > 0 ? -outside : -Math.max(...q);
      expect(Math.abs(depth.at(p) - exact)).toBeLessThan(1e-4);
    }
  });
});
