import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { type TriMesh, triCount, vertCount } from '../../../src/core/mesh/TriMesh.ts';
import { levelFinish, trowelSpacingMm } from '../../../src/core/shell/levelFinish.ts';
import { buildTrowelGround, type TrowelGround } from '../../../src/core/shell/TrowelGround.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, capsule, octasphere, torus } from '../../fixtures/shapes.ts';
import { extrudeProfile } from './extrudeProfile.ts';

/** Steps of the profiles, mm: finer than any trowel's points. */
const STEP_MM = 1;

function groundOf(mesh: TriMesh, radiusMm: number): TrowelGround {
  return buildTrowelGround(
    mesh,
    new Uint8Array(triCount(mesh)).fill(1),
    trowelSpacingMm(radiusMm, 0) ?? Number.NaN,
  );
}

/** What levelling adds at each vertex of a mesh whose shell stands `heightMm` over all of it. */
function fillOf(mesh: TriMesh, heightMm: number, radiusMm: number): Promise<Float64Array> {
  const heights = new Float64Array(vertCount(mesh)).fill(heightMm);
  return levelFinish(groundOf(mesh, radiusMm), heights, radiusMm, new Checkpoint());
}

const most = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);

/** Values at the vertices within `reach` of a place of the profile, well within the ends. */
function near(mesh: TriMesh, values: Float64Array, x: number, z: number, reach: number): number[] {
  const p = mesh.positions;
  return Array.from(values).filter(
    (_, v) => Math.hypot(p[3 * v] - x, p[3 * v + 2] - z) <= reach && Math.abs(p[3 * v + 1]) <= 20,
  );
}

const PLANE = extrudeProfile(
  [
    [-80, 0],
    [80, 0],
  ],
  60,
  2,
);
const valley = extrudeProfile(
  [
    [-60, 60],
    [0, 0],
    [60, 60],
  ],
  60,
  STEP_MM,
);

describe('a levelled finish', () => {
  it.each<[string, TriMesh, number, number]>([
    ['a ball of 40 mm', octasphere(40, 24), 9.5, 30],
    ['a ball of 8 mm', octasphere(8, 10), 5, 10],
    ['a capsule', capsule(20, 60, 24), 9.5, 30],
    ['a box of twelve triangles', box(120, 90, 60), 9.5, 30],
    ['a plane', PLANE, 9.5, 30],
  ])('adds nothing to %s', async (_name, mesh, heightMm, radiusMm) => {
    expect(most(await fillOf(mesh, heightMm, radiusMm))).toBe(0);
  });

  it('takes nothing off, and adds nothing on the outer half of a ring, where a ball reaches everywhere', async () => {
    const ring = torus(30, 15, 120, 60);
    const fill = await fillOf(ring, 5, 30);
    const p = ring.positions;
    const outside = fill.filter((_, v) => Math.hypot(p[3 * v], p[3 * v + 1]) > 31);
    expect(most(outside)).toBe(0);
    expect(fill.every((x) => x >= 0)).toBe(true);
    // The hole, 10 mm in radius once coated, lets no ball of 30 mm in: own arithmetic, its centre rests 15 + 5 + 30 from the tube's middle, so
    // sqrt(50^2 - 30^2) = 40 over the ring, and its underside 10. So nothing meets a waist point's level normal before the axis.
    const waist = fill.filter((_, v) => Math.hypot(p[3 * v], p[3 * v + 1]) < 15.1);
    expect(Math.min(...waist)).toBeGreaterThan(9.5);
  });

  it.each([12, 18])(
    'fills a groove %d mm deep, narrower than the trowel, to where a ball rests on its edges',
    async (depth) => {
      const mesh = extrudeProfile(
        [
          [-70, 0],
          [-10, 0],
          [-10, -depth],
          [10, -depth],
          [10, 0],
          [70, 0],
        ],
        60,
        STEP_MM,
      );
      const fill = await fillOf(mesh, 2, 20);
      // Own arithmetic: the ball's centre is r + h from both edges, (+-10, 0); the middle of the floor looks straight up at it. An edge is
      // met within half a spacing (3.3 / 2): 1.7 mm wider the ball sinks to sqrt(22^2 - 11.7^2) - 20 = -1.37.
      const chord = depth + Math.sqrt(22 ** 2 - 10 ** 2) - 20 - 2;
      const sunk = depth + Math.sqrt(22 ** 2 - 11.7 ** 2) - 20 - 2;
      const floor = near(mesh, fill, 0, -depth, 0.6);
      expect(Math.max(...floor)).toBeLessThan(chord + 0.05);
      expect(Math.min(...floor)).toBeGreaterThan(sunk - 0.05);
      expect(most(Float64Array.from(near(mesh, fill, -40, 0, 10)))).toBe(0);
    },
  );

  it.each([10, 20, 30])(
    'rounds a valley of 45 degrees to a trowel of %d mm, never above it',
    async (radiusMm) => {
      const fill = await fillOf(valley, 5, radiusMm);
      // Own arithmetic: the outside is the same valley h sqrt 2 higher; a ball's centre rests r sqrt 2 over its bottom.
      const closed = 5 * Math.SQRT2 + radiusMm * (Math.SQRT2 - 1);
      const bottom = near(valley, fill, 0, 0, 0.3);
      expect(5 + Math.max(...bottom)).toBeLessThan(closed + 0.05);
      // What stands over the point's own 5 mm already, h (sqrt 2 - 1), may be taken off.
      expect(5 + Math.min(...bottom)).toBeGreaterThan(closed - 5 * (Math.SQRT2 - 1) - 0.1);
    },
  );

  it('twice is as good as once: with the fill as part of the body, nothing more is filled', async () => {
    const radiusMm = 20;
    const ground = groundOf(valley, radiusMm);
    const heights = new Float64Array(vertCount(valley)).fill(5);
    const once = await levelFinish(ground, heights, radiusMm, new Checkpoint());
    // The points of the outside as levelled, added as points that carry nothing more.
    const points = Float64Array.from(ground.points);
    for (let n = 0; n < points.length / 3; n++) {
      const vert = ground.corners[3 * n];
      for (let k = 0; k < 3; k++) points[3 * n + k] += (5 + once[vert] - 0.1) * ground.normals[3 * n + k];
    }
    const last = vertCount(valley);
    const both = (a: ArrayLike<number>, b: ArrayLike<number>): number[] => [
      ...Array.from(a),
      ...Array.from(b),
    ];
    const doubled: TrowelGround = {
      ...ground,
      points: Float64Array.from(both(ground.points, points)),
      normals: Float64Array.from(both(ground.normals, ground.normals)),
      corners: Uint32Array.from(
        both(
          ground.corners,
          ground.corners.map(() => last),
        ),
      ),
      cornerShares: Float32Array.from(both(ground.cornerShares, ground.cornerShares)),
    };
    const twice = await levelFinish(doubled, Float64Array.from([...heights, 0]), radiusMm, new Checkpoint());
    const more = once.map((x, v) => twice[v] - x);
    const within = near(valley, more, 0, 0, 25);
    expect(within.length).toBeGreaterThan(1000);
    // A third of a millimetre: a tenth of the spacing of 3.3 mm, by which the lattice of the second pass may stand otherwise.
    expect(Math.max(...within.map(Math.abs))).toBeLessThan(0.34);
  });

  it('fills nothing that a ball can reach: checked against all points, fixed seed', async () => {
    const radiusMm = 20;
    const ground = groundOf(valley, radiusMm);
    const fill = await fillOf(valley, 5, radiusMm);
    const random = seededRandom(7);
    let tried = 0;
    let nearest = Infinity;
    for (let n = 0; n < 200; n++) {
      // Centres over the middle of the valley, from within the shell to well above it.
      const centre = [60 * (random() - 0.5), 30 * (random() - 0.5), 20 + 60 * random()];
      const p = ground.points;
      let clear = Infinity;
      for (let i = 0; i < p.length; i += 3) {
        clear = Math.min(clear, Math.hypot(p[i] - centre[0], p[i + 1] - centre[1], p[i + 2] - centre[2]) - 5);
      }
      if (clear < radiusMm) continue;
      tried++;
      for (let v = 0; v < fill.length; v++) {
        if (fill[v] === 0) continue;
        const [x, y, z] = [0, 1, 2].map((k) => valley.positions[3 * v + k]);
        // The faces of the valley look to its middle and up.
        const lean = x === 0 ? 0 : -Math.sign(x) * Math.SQRT1_2;
        const up = x === 0 ? 1 : Math.SQRT1_2;
        const h = 5 + fill[v];
        nearest = Math.min(
          nearest,
          Math.hypot(x + lean * h - centre[0], y - centre[1], z + up * h - centre[2]),
        );
      }
    }
    expect(nearest).toBeGreaterThan(radiusMm - 0.35);
    expect(tried).toBeGreaterThan(25);
  });

  it('says when the trowel is too small for the mould', () => {
    expect(trowelSpacingMm(30, 38_000)).toBe(5);
    expect(trowelSpacingMm(6, 38_000)).toBeCloseTo(Math.sqrt(38_000 / 20_000), 9);
    expect(trowelSpacingMm(3, 11e6)).toBeNull();
  });
});
