import { describe, expect, it } from 'vitest';
import { planShape } from '../fixtures/planShape.ts';
import { seededRandom } from '../fixtures/seededRandom.ts';
import { box, cylinder, moved, octasphere, scaled, torus, turned } from '../fixtures/shapes.ts';
import { enclosedVolume, hollowDeviation, layerVolume, steinerOf } from './convexSteiner.ts';
import { expectCovered } from './expectCovered.ts';
import { randomHull } from './manifoldShapes.ts';

const INCH = 25.4;

describe('Steiner 1840: volume of a parallel body of a convex body', () => {
  it('W1: box 200 x 150 x 100 mm, t = 10: 4,445,560.46 mm3 with its inside', async () => {
    const mesh = box(200, 150, 100);
    const result = await planShape(mesh, { coatsMm: [4, 6] }, { resolution: 4 });
    // V + S t + pi (a + b + c) t^2 + 4/3 pi t^3 with V = 3e6, S = 130,000.
    const exact = 3e6 + 130_000 * 10 + Math.PI * 450 * 100 + (4 / 3) * Math.PI * 1000;
    expect(exact).toBeCloseTo(4_445_560.46, 1);
    expectCovered(result.shell, exact - 3e6);
    expect(result.rubber.volumeMm3).toBeCloseTo(3e6, 3);
    expect(result.rubber.areaMm2).toBeCloseTo(130_000, 6);
    const sums = steinerOf(mesh);
    const [first, second] = result.pieces[0].coats;
    expectCovered(first, layerVolume(sums, 4));
    expectCovered(second, layerVolume(sums, 10) - layerVolume(sums, 4));
  });

  it('W1 in an odd pose: the same', async () => {
    const mesh = turned(box(200, 150, 100), [1, 2, 3], 0.7);
    const result = await planShape(mesh, {}, { resolution: 4 });
    expectCovered(result.shell, layerVolume(steinerOf(mesh), 10));
  });

  it('W2: cylinder r 50, h 200, t = 10: 2,472,563.155 mm3, of a prism of 256 sides its own', async () => {
    const mesh = cylinder(50, 200, 256);
    const result = await planShape(mesh, {}, { resolution: 4 });
    expectCovered(result.shell, layerVolume(steinerOf(mesh), 10));
    // M = pi h + pi^2 r. The prism's layer is smaller: its perimeter falls short by (pi/n)^2/6 = 2.5e-5 of the circle's,
    // which is less than 3e-5 of every term.
    const layer = 2_472_563.155 - Math.PI * 2500 * 200;
    expectCovered(result.shell, layer, { deviationMm3: 3e-5 * layer });
  });

  it('W3: sphere R 100, t = 9.525 (3/8 in): 1314.576 cm3, of its polyhedron its own', async () => {
    const mesh = octasphere(100, 32);
    const result = await planShape(mesh, { coatsMm: [9.525] }, { resolution: 4 });
    const own = layerVolume(steinerOf(mesh), 9.525);
    expectCovered(result.shell, own);
    // The polyhedron lies between the ball and one whose radius is less by the largest sagitta; edges span 1/32 of a
    // right angle or up to sqrt(2) of that near the middle of an octant: R (1 - cos(0.0697 / sqrt 3)) < 0.09 mm.
    const sagitta = 0.09;
    const layer = (r: number): number => (4 / 3) * Math.PI * ((r + 9.525) ** 3 - r ** 3);
    expect(layer(100) / 1000).toBeCloseTo(1314.576, 2);
    expectCovered(result.shell, layer(100), { deviationMm3: layer(100) - layer(100 - sagitta) });
    expect(own).toBeGreaterThan(layer(100 - sagitta));
    expect(own).toBeLessThan(layer(100));
  });

  it('W6: cube of 3 in on the board, five faces, 3/8 in: 19.636 in3, not the 16.88 of area times thickness', async () => {
    const mesh = box(3, 3, 3);
    const result = await planShape(
      mesh,
      { coatsMm: [0.375 * INCH], scan: { unit: 'in', board: 'auto' } },
      { resolution: 3 },
    );
    // Half of the layer over the box 3 x 3 x 6 that the board makes of it by mirroring.
    const exact = 45 * 0.375 + (Math.PI * 12 * 0.375 ** 2) / 2 + (2 / 3) * Math.PI * 0.375 ** 3;
    expect(exact).toBeCloseTo(19.636, 3);
    expectCovered(result.shell, exact * INCH ** 3);
    expect(result.rubber.areaMm2 / INCH ** 2).toBeCloseTo(45, 6);
    expect(result.rubber.volumeMm3 ?? 0).toBeCloseTo(27 * INCH ** 3, 3);
  });

  it.each([11, 12, 13, 14, 15, 16])(
    'hull of random points, seed %i: Steiner of its own faces, edges, corners',
    async (seed) => {
      const random = seededRandom(seed);
      const mesh = await randomHull(random, 80, 6 + Math.floor(30 * random()));
      const sums = steinerOf(mesh);
      // Gauss-Bonnet: a closed convex surface turns through 4 pi.
      expect(sums.gauss).toBeCloseTo(4 * Math.PI, 6);
      const coatsMm = [2 + 3 * random(), 3 + 4 * random()];
      const result = await planShape(mesh, { coatsMm }, { resolution: 2 });
      const [first, second] = result.pieces[0].coats;
      const whole = layerVolume(sums, coatsMm[0] + coatsMm[1]);
      expectCovered(first, layerVolume(sums, coatsMm[0]));
      expectCovered(second, whole - layerVolume(sums, coatsMm[0]));
      expectCovered(result.shell, whole);
      // A hull comes in single precision; its own numbers are exact for what is given.
      expect(Math.abs((result.rubber.volumeMm3 ?? 0) - enclosedVolume(mesh))).toBeLessThan(1e-6 * whole);
    },
  );
});

describe('Weyl 1939: tube of radius eps about a closed surface, 2 A eps + (4 pi / 3) chi eps^3', () => {
  it('W4: sphere R 100, eps 5: 1,257,684.259 mm3, as a coat of 10 over R 95', async () => {
    const mesh = octasphere(95, 32);
    const result = await planShape(mesh, {}, { resolution: 4 });
    expectCovered(result.shell, layerVolume(steinerOf(mesh), 10));
    // As in W3: sagitta < 0.09 mm; the layer's volume goes with the squares of radii.
    const layer = (r: number): number => (4 / 3) * Math.PI * ((r + 10) ** 3 - r ** 3);
    expect(layer(95)).toBeCloseTo(1_257_684.259, 1);
    expectCovered(result.shell, 1_257_684.259, { deviationMm3: layer(95) - layer(94.91) });
  });

  it('W5: torus R 200, r 50, eps 5: 3,947,841.76 mm3 (chi = 0), as a coat of 10 over r 45', async () => {
    const mesh = torus(200, 45, 160, 64);
    const result = await planShape(mesh, {}, { resolution: 5 });
    const own = layerVolume(steinerOf(mesh), 10);
    expectCovered(result.shell, own, { deviationMm3: hollowDeviation(mesh, 10) });
    // Perimeters of polygons of 160 and 64 sides fall short by (pi/n)^2/6: 6.4e-5 and 4.0e-4 of the circle's.
    const smooth = 3_947_841.76;
    expectCovered(result.shell, smooth, { deviationMm3: 4.7e-4 * smooth });
  });
});

describe('Pappus and Guldinus: turned bodies', () => {
  it('torus: area 4 pi^2 R r, volume 2 pi^2 R r^2 between the coats', async () => {
    // Larson and Edwards, Calculus, sec. 7.6, example 7: circle of radius 1 about an axis 2 away: 4 pi^2; here times 20^3.
    const mesh = moved(torus(40, 20, 120, 60), [7, -3, 50]);
    const result = await planShape(mesh, { coatsMm: [4, 4] }, { resolution: 2.5 });
    // Areas and volumes of inscribed rings fall short by (pi/n)^2/6 to 2/3 (pi/n)^2 of themselves a direction: below 2.3e-3.
    const polygons = 2.3e-3;
    const solid = (r: number): number => 2 * Math.PI ** 2 * 40 * r ** 2;
    expect(solid(20)).toBeCloseTo(4 * Math.PI ** 2 * 20 ** 3, 6);
    expect(Math.abs(result.rubber.areaMm2 / (4 * Math.PI ** 2 * 40 * 20) - 1)).toBeLessThan(polygons);
    expect(Math.abs((result.rubber.volumeMm3 ?? 0) / solid(20) - 1)).toBeLessThan(polygons);
    const [first, second] = result.pieces[0].coats;
    expectCovered(first, solid(24) - solid(20), { deviationMm3: polygons * (solid(24) - solid(20)) });
    expectCovered(second, solid(28) - solid(24), { deviationMm3: polygons * (solid(28) - solid(24)) });
    const sums = steinerOf(mesh);
    expectCovered(first, layerVolume(sums, 4), { deviationMm3: hollowDeviation(mesh, 4) });
  });

  it('stretched ball: its layer is that of its own polyhedron', async () => {
    const mesh = scaled(octasphere(20, 12), [2, 1, 0.7]);
    const result = await planShape(mesh, { coatsMm: [6] }, { resolution: 2 });
    expectCovered(result.shell, layerVolume(steinerOf(mesh), 6));
  });
});
