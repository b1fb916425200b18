import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedVolume } from '../../src/core/mesh/measure.ts';
import type { TriMesh, Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { CastingPlan } from '../../src/core/plan/PlanDocument.ts';
import { FREE_FALL_M_PER_S2 } from '../../src/core/units.ts';
import { centreOfPressure } from '../../src/core/work/casting/centreOfPressure.ts';
import { filledVolume, openingOnBoard } from '../../src/core/work/casting/filledVolume.ts';
import { fillMould, type MouldFill, pressureAt } from '../../src/core/work/casting/MouldFill.ts';
import { PRESS, PRESS_WIDTH, pressOnRegions } from '../../src/core/work/casting/pressOnRegions.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { box, moved, octasphere, openHalfSphere, scaled, turned } from '../fixtures/shapes.ts';
import { randomHull } from './manifoldShapes.ts';

/** Pressures of a fluid at rest, against closed forms of any text on hydrostatics (pressure prism; Archimedes) and the trade's own rows W14-W17. */

const casting = (changes: Partial<CastingPlan> = {}): CastingPlan => ({
  densityGPerCm3: 1.6,
  attitude: 'as-built',
  levelMm: 'full',
  wallMm: null,
  rubberMm: 10,
  ...changes,
});

/** N for each mm3 of the fluid of 1.6 g/cm3: 1600 kg/m3 x 9.80665 m/s2 x 1e-9 m3/mm3. */
const WEIGHT_N_PER_MM3 = 1600 * FREE_FALL_M_PER_S2 * 1e-9;

function pressAll(
  mesh: TriMesh,
  fill: MouldFill,
  regionOf: (middle: Vec3) => number = () => 0,
  count = 1,
): Float64Array {
  const triRegion = Int32Array.from({ length: mesh.indices.length / 3 }, (_, t) => {
    const middle = [0, 0, 0];
    for (let n = 0; n < 3; n++) {
      for (let k = 0; k < 3; k++) middle[k] += mesh.positions[3 * mesh.indices[3 * t + n] + k] / 3;
    }
    return regionOf([middle[0], middle[1], middle[2]]);
  });
  return pressOnRegions(mesh.positions, mesh.indices, triRegion, count, fill);
}

const forceOf = (press: Float64Array, region = 0): Vec3 => {
  const row = region * PRESS_WIDTH + PRESS.force;
  return [press[row], press[row + 1], press[row + 2]];
};

function heightsOf(mesh: TriMesh): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 2; i < mesh.positions.length; i += 3) {
    low = Math.min(low, mesh.positions[i]);
    high = Math.max(high, mesh.positions[i]);
  }
  return { low, high };
}

function fillOf(mesh: TriMesh, changes: Partial<CastingPlan> = {}): MouldFill {
  const { low, high } = heightsOf(mesh);
  return fillMould(casting(changes), low, high);
}

/** Upright rectangle in the plane x = 0, facing +x. */
function rectangle(widthMm: number, heightMm: number, rows = 1): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let n = 0; n <= rows; n++) {
    positions.push(0, 0, (n * heightMm) / rows, 0, widthMm, (n * heightMm) / rows);
    if (n === rows) continue;
    const a = 2 * n;
    indices.push(a, a + 1, a + 3, a, a + 3, a + 2);
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** Fan from a point to a ring. */
function fan(middle: Vec3, ring: readonly Vec3[]): TriMesh {
  const positions = [middle, ...ring].flat();
  const indices = ring.flatMap((_, n) => [0, n + 1, ((n + 1) % ring.length) + 1]);
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

describe('fluid at rest', () => {
  it('W14: p = rho g h at 0.6 m: 9.414 kPa for 1600 kg/m3, 14.12 for 2400, 5.30 for 900', () => {
    for (const [density, kPa, digits] of [
      [1.6, 9.414, 3],
      [2.4, 14.12, 2],
      [0.9, 5.3, 2],
    ]) {
      const fill = fillMould(casting({ densityGPerCm3: density }), 0, 600);
      expect(pressureAt(fill, 0) / 1000).toBeCloseTo(kPa, digits);
      expect(pressureAt(fill, 600)).toBe(0);
      const turnedOver = fillMould(casting({ densityGPerCm3: density, attitude: 'foot-up' }), 0, 600);
      expect(pressureAt(turnedOver, 600) / 1000).toBeCloseTo(kPa, digits);
      expect(pressureAt(turnedOver, 0)).toBe(0);
    }
  });

  it('W15: rectangle 0.4 x 0.6 m: 1129.7 N, 0.4 m below the top, the lowest quarter 43.75 %', () => {
    const mesh = rectangle(400, 600, 4);
    const press = pressAll(mesh, fillOf(mesh), ([, , z]) => (z < 150 ? 0 : 1), 2);
    const [low] = forceOf(press, 0);
    const [high] = forceOf(press, 1);
    expect(low + high).toBeCloseTo(1129.7, 1);
    expect(low / (low + high)).toBeCloseTo(0.4375, 12);
    const whole = pressAll(mesh, fillOf(mesh));
    expect(centreOfPressure(whole, 0)?.[1]).toBeCloseTo(200, 9);
    expect(centreOfPressure(whole, 0)?.[2]).toBeCloseTo(200, 9);
  });

  it('W16: upright disc of 0.5 m, top at the level: 770.2 N, less what its polygon lacks', () => {
    const sides = 720;
    const ring = Array.from({ length: sides }, (_, n): Vec3 => {
      const angle = (2 * Math.PI * n) / sides;
      return [0, 250 * Math.cos(angle), 250 + 250 * Math.sin(angle)];
    });
    const mesh = fan([0, 0, 250], ring);
    const [fx] = forceOf(pressAll(mesh, fillOf(mesh)));
    // The polygon's area is (n / 2 pi) sin(2 pi / n) of the circle's: 1.3e-5 less; its middle stands at the same depth.
    const angle = (2 * Math.PI) / sides;
    const disc = WEIGHT_N_PER_MM3 * 250 * Math.PI * 250 ** 2;
    expect(disc).toBeCloseTo(770.2, 1);
    expect(fx).toBeCloseTo((disc * Math.sin(angle)) / angle, 9);
  });

  it('W17 and the cone: uplift on a dome rho g pi R^3/3 = 256.7 N, on a cone 2/3 rho g pi R^2 H', () => {
    const dome = openHalfSphere(250, 96);
    const [, , up] = forceOf(pressAll(dome, fillOf(dome)));
    // Uplift = weight of the fluid between the dome and its top level: (disc x R - half ball), of the polyhedron its own.
    const own = WEIGHT_N_PER_MM3 * (openingOnBoard(dome.positions, dome.indices) * 250 - signedVolume(dome));
    expect(up).toBeCloseTo(own, 9);
    expect(own).toBeGreaterThan(256.7 * 0.998);
    expect(own).toBeLessThan(256.7 * 1.002);

    const sides = 512;
    const ring = Array.from({ length: sides }, (_, n): Vec3 => {
      const angle = (2 * Math.PI * n) / sides;
      return [200 * Math.cos(angle), 200 * Math.sin(angle), 0];
    });
    const cone = fan([0, 0, 300], ring);
    const [fx, fy, fz] = forceOf(pressAll(cone, fillOf(cone)));
    const angle = (2 * Math.PI) / sides;
    const disc = Math.PI * 200 ** 2 * (Math.sin(angle) / angle);
    expect(fz).toBeCloseTo((2 / 3) * WEIGHT_N_PER_MM3 * disc * 300, 9);
    expect(fx).toBeCloseTo(0, 9);
    expect(fy).toBeCloseTo(0, 9);
  });

  it('half cylinder: 1/2 rho g D H^2 sideways, whatever its wall does between its edges', () => {
    const count = 64;
    const positions: number[] = [];
    const indices: number[] = [];
    for (let n = 0; n <= count; n++) {
      const angle = -Math.PI / 2 + (Math.PI * n) / count;
      for (const z of [0, 400]) positions.push(150 * Math.cos(angle), 150 * Math.sin(angle), z);
      if (n < count) indices.push(2 * n, 2 * n + 2, 2 * n + 3, 2 * n, 2 * n + 3, 2 * n + 1);
    }
    const mesh = { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
    const press = pressAll(mesh, fillOf(mesh));
    const [fx, fy, fz] = forceOf(press);
    expect(fx).toBeCloseTo(0.5 * WEIGHT_N_PER_MM3 * 300 * 400 ** 2, 8);
    expect(fy).toBeCloseTo(0, 9);
    expect(fz).toBeCloseTo(0, 9);
    // A third of the depth from the bottom, on the plane of symmetry.
    expect(centreOfPressure(press, 0)?.[2]).toBeCloseTo(400 / 3, 9);
    expect(centreOfPressure(press, 0)?.[1]).toBeCloseTo(0, 9);
  });

  it('the level cuts triangles exactly: one tall triangle half under it, by hand', () => {
    // Triangle with its base of 100 mm on the board and its tip 300 up, filled to 150: the wet part is a trapezium of 100 and 50.
    const mesh = {
      positions: Float64Array.from([0, 0, 0, 0, 100, 0, 0, 50, 300]),
      indices: Uint32Array.from([0, 1, 2]),
    };
    const [fx] = forceOf(pressAll(mesh, fillOf(mesh, { levelMm: 150 })));
    // Integral of (150 - z)(100 - z/3) dz from 0 to 150 = 100 x 11250 - 562500/3 = 937500 mm3.
    expect(fx).toBeCloseTo(WEIGHT_N_PER_MM3 * 937_500, 9);
  });

  it('the same surface in two triangles or in two thousand gives the same, to rounding', () => {
    const coarse = rectangle(400, 600, 1);
    const fine = rectangle(400, 600, 1000);
    for (const levelMm of [600, 431.7, 900]) {
      const a = pressAll(coarse, fillOf(coarse, { levelMm }));
      const b = pressAll(fine, fillOf(fine, { levelMm }));
      expect(b[PRESS.force] / a[PRESS.force]).toBeCloseTo(1, 9);
      expect(centreOfPressure(b, 0)?.[2]).toBeCloseTo(centreOfPressure(a, 0)?.[2] ?? Number.NaN, 7);
    }
  });
});

describe('closed bodies', () => {
  const closed: [string, TriMesh][] = [
    ['box', box(200, 150, 100)],
    ['ball', octasphere(100, 12)],
    ['turned box', turned(box(200, 150, 100), [1, 2, 3], 0.7)],
    ['flattened ball', turned(scaled(octasphere(100, 8), [1, 0.4, 2]), [2, -1, 1], 1.1)],
  ];
  for (const [name, mesh] of closed) {
    it(`${name}: filled to the top, the fluid presses with its own weight, straight down, through its middle`, () => {
      const { low } = heightsOf(mesh);
      const standing = moved(mesh, [7, -3, -low]);
      const volumeMm3 = signedVolume(standing);
      for (const attitude of ['as-built', 'foot-up'] as const) {
        const press = pressAll(standing, fillOf(standing, { attitude }));
        const [fx, fy, fz] = forceOf(press);
        const down = attitude === 'as-built' ? -1 : 1;
        expect(fz).toBeCloseTo(down * WEIGHT_N_PER_MM3 * volumeMm3, 7);
        expect(fx).toBeCloseTo(0, 7);
        expect(fy).toBeCloseTo(0, 7);
        expect(centreOfPressure(press, 0)?.[0]).toBeCloseTo(
          name.includes('box') ? middleOf(standing)[0] : 7,
          4,
        );
        expect(filledVolume(press, fillOf(standing, { attitude }), 0)).toBeCloseTo(volumeMm3, 3);
      }
    });
  }

  it('random hulls, turned and filled to any level: volume and weight by the divergence theorem, against the part cut off by the level', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.05, max: 1.2, noNaN: true }),
        async (seed, share) => {
          const hull = await randomHull(seededRandom(seed), 400, 24);
          const { low } = heightsOf(hull);
          const mesh = moved(hull, [0, 0, -low]);
          const { high } = heightsOf(mesh);
          const fill = fillOf(mesh, { levelMm: share * high });
          const press = pressAll(mesh, fill);
          const [fx, fy, fz] = forceOf(press);
          const volumeMm3 = filledVolume(press, fill, 0);
          const thrust = press[PRESS.thrust];
          // Sideways the pressures on a body cancel, and downward they are the fluid's weight; the level itself bears none.
          expect(Math.abs(fx) / thrust).toBeLessThan(1e-12);
          expect(Math.abs(fy) / thrust).toBeLessThan(1e-12);
          expect(Math.abs(fz + WEIGHT_N_PER_MM3 * volumeMm3) / thrust).toBeLessThan(1e-12);
          expect(volumeMm3 / volumeBelow(mesh, share * high)).toBeCloseTo(1, 6);
        },
      ),
      { seed: 4, numRuns: 100 },
    );
  });
});

/** Middle of the vertices: of a box its own. */
function middleOf(mesh: TriMesh): number[] {
  const sum = [0, 0, 0];
  for (let i = 0; i < mesh.positions.length; i++) sum[i % 3] += mesh.positions[i];
  return sum.map((s) => (3 * s) / mesh.positions.length);
}

/**
 * Volume of a convex body below a height, by another way: its slice's area is quadratic in z between the heights of vertices,
 * so that Simpson's rule over each such stretch is exact, but for the hair of 1e-7 by which its ends keep off the vertices.
 */
function volumeBelow(mesh: TriMesh, levelMm: number): number {
  const heights = new Set<number>([levelMm]);
  for (let i = 2; i < mesh.positions.length; i += 3) {
    if (mesh.positions[i] < levelMm) heights.add(mesh.positions[i]);
  }
  const stops = [...heights].sort((a, b) => a - b);
  let volume = 0;
  for (let n = 1; n < stops.length; n++) {
    const [from, to] = [stops[n - 1], stops[n]];
    const hair = (to - from) * 1e-7;
    const area = (z: number): number => sliceArea(mesh, z);
    volume += ((to - from) / 6) * (area(from + hair) + 4 * area((from + to) / 2) + area(to - hair));
  }
  return volume;
}

/** Area of the slice at a height that no vertex has: half the sum of the cross products of the cut edges. */
function sliceArea(mesh: TriMesh, z: number): number {
  const { positions: p, indices } = mesh;
  let twice = 0;
  for (let t = 0; t < indices.length; t += 3) {
    const cut: number[] = [];
    let rises = 0;
    for (let k = 0; k < 3; k++) {
      const a = 3 * indices[t + k];
      const b = 3 * indices[t + ((k + 1) % 3)];
      if (p[a + 2] < z === p[b + 2] < z) continue;
      const share = (z - p[a + 2]) / (p[b + 2] - p[a + 2]);
      cut.push(p[a] + share * (p[b] - p[a]), p[a + 1] + share * (p[b + 1] - p[a + 1]));
      if (cut.length === 2) rises = p[b + 2] > p[a + 2] ? 1 : -1;
    }
    if (cut.length < 4) continue;
    // Seen from above the outline runs counter-clockwise: from the falling edge of a triangle to its rising one, or the other way round.
    twice += rises * (cut[2] * cut[1] - cut[0] * cut[3]);
  }
  return Math.abs(twice) / 2;
}
