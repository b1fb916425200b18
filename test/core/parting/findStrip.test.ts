import { describe, expect, it } from 'vitest';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { coarsenSurface } from '../../../src/core/parting/coarsenSurface.ts';
import { findStrip } from '../../../src/core/parting/findStrip.ts';
import { layLeg } from '../../../src/core/parting/layLeg.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { searchStrip } from '../../../src/core/parting/searchStrip.ts';
import { shootStrip } from '../../../src/core/parting/shootStrip.ts';
import { straightenStrip, type TrianglePath } from '../../../src/core/parting/straightenStrip.ts';
import { expectValidMesh } from '../../expectValidMesh.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { joined, moved, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';
import { dividedBox } from './dividedBox.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

const closedContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, false));

function lengthOf({ points: p }: TrianglePath): number {
  let sum = 0;
  for (let i = 3; i < p.length; i += 3) {
    sum += Math.hypot(p[i] - p[i - 3], p[i + 1] - p[i - 2], p[i + 2] - p[i - 1]);
  }
  return sum;
}

describe('findStrip over a coarse surface', () => {
  const sphere = closedContext(octasphere(50, 100));

  // Half a great circle less one degree (elementary). A geodesic of the inscribed mesh with edges e < 1.2 is shorter by a share of
  // at most e^2/(8 R^2) = 7e-5. Here all ways to the far side are all but equally long, so that shortening alone hardly moves.
  it('between points nearly opposite each other', () => {
    for (const [n, tilt] of [0.3, 1.1, 2.5].entries()) {
      const a = sphere.closestPoint([50 * Math.cos(n), 50 * Math.sin(n), 0]);
      const span = (179 * Math.PI) / 180;
      const [c, s] = [Math.cos(span), Math.sin(span)];
      const b = sphere.closestPoint([
        50 * (c * Math.cos(n) - s * Math.cos(tilt) * Math.sin(n)),
        50 * (c * Math.sin(n) + s * Math.cos(tilt) * Math.cos(n)),
        50 * s * Math.sin(tilt),
      ]);
      const share = lengthOf(layLeg(sphere, a, b)) / (50 * span);
      expect(share).toBeLessThan(1 + 1e-5);
      expect(share).toBeGreaterThan(1 - 7e-5);
    }
  });

  it('neighbours share an edge, and it starts and ends where it should', () => {
    const a = sphere.closestPoint([50, 3, 4]);
    const b = sphere.closestPoint([-30, 20, -35]);
    const strip = findStrip(sphere, a, b) as number[];
    expect(strip[0]).toBe(a.tri);
    expect(strip[strip.length - 1]).toBe(b.tri);
    for (let i = 1; i < strip.length; i++) {
      const links = [0, 1, 2].map((k) => Math.floor(sphere.links[3 * strip[i - 1] + k] / 3));
      expect(links).toContain(strip[i]);
    }
  });

  // Both searches end in a way that nothing near it shortens; on a sphere there is only one of those but the way round the back.
  it('comes to the same length as the search without it, seed 11', () => {
    const random = seededRandom(11);
    const anywhere = (): Vec3 => [random() - 0.5, random() - 0.5, random() - 0.5];
    for (let n = 0; n < 12; n++) {
      const a = sphere.closestPoint(anywhere().map((c) => 200 * c) as unknown as Vec3);
      const b = sphere.closestPoint(anywhere().map((c) => 200 * c) as unknown as Vec3);
      const direct = straightenStrip(sphere, searchStrip(sphere, a, b) as number[], a, b);
      expect(lengthOf(layLeg(sphere, a, b)) / lengthOf(direct)).toBeCloseTo(1, 6);
    }
  });

  // Unfolded over the near edge: 30 down, 0.5 across, 30 up (elementary). Straight through it would be 0.5.
  it('does not leap through a thin wall', () => {
    const wall = closedContext(dividedBox(100, 100, 0.5, 60));
    const a = wall.closestPoint([30, 52, 0.5]);
    const b = wall.closestPoint([30, 52, 0]);
    expect(lengthOf(layLeg(wall, a, b))).toBeCloseTo(60.5, 9);
  });

  it('a straight line over a face that is finely divided', () => {
    const plate = closedContext(dividedBox(100, 80, 60, 60));
    const a = plate.closestPoint([3, 7, 60]);
    const b = plate.closestPoint([95, 61, 60]);
    expect(lengthOf(layLeg(plate, a, b))).toBeCloseTo(Math.hypot(92, 54), 9);
  });

  it('finds no way between parts that are not connected, however near', () => {
    const two = closedContext(joined(octasphere(50, 70), moved(octasphere(50, 70), [100.01, 0, 0])));
    expect(findStrip(two, two.closestPoint([0, 0, 50]), two.closestPoint([100, 0, 50]))).toBeNull();
  });
});

describe('shootStrip', () => {
  it('turns its aim until the walk passes the goal: straight over a plate from a wrong first aim', () => {
    const plate = closedContext(dividedBox(100, 80, 60, 40));
    const a = plate.closestPoint([10.3, 8.2, 60]);
    const b = plate.closestPoint([88.1, 61.7, 60]);
    const lengthMm = Math.hypot(77.8, 53.5);
    // The angle is of the start's own triangle; this one lies 0.3 rad off the goal whatever that is.
    const [p, q] = [0, 1].map((k) => 3 * plate.indices[3 * a.tri + k]);
    const xAxis = Math.atan2(
      plate.positions[q + 1] - plate.positions[p + 1],
      plate.positions[q] - plate.positions[p],
    );
    const strip = shootStrip(plate, a, b, lengthMm, Math.atan2(53.5, 77.8) - xAxis + 0.3) as number[];
    expect(strip[0]).toBe(a.tri);
    expect(strip[strip.length - 1]).toBe(b.tri);
    expect(lengthOf(straightenStrip(plate, strip, a, b))).toBeCloseTo(lengthMm, 9);
  });

  it('gives up where the surface ends', () => {
    const dome = new SurfaceContext(preparedFromMesh(openHalfSphere(50, 20), true));
    const a = dome.closestPoint([45, 3, 20]);
    const b = dome.closestPoint([-45, 3, 20]);
    for (let angle = 0; angle < 6.2; angle += 0.1) {
      const strip = shootStrip(dome, a, b, 400, angle);
      expect(strip).toBeNull();
    }
  });
});

describe('coarsenSurface', () => {
  it('a sphere comes out closed, of one part, on the sphere', () => {
    const fine = closedContext(octasphere(50, 60));
    const { surface, seed, cellOf } = coarsenSurface(fine);
    expectValidMesh(surface.scan.mesh);
    expect(surface.triCount).toBeLessThan(fine.triCount / 6);
    expect(surface.triCount).toBeGreaterThan(fine.triCount / 30);
    // Euler's formula for a sphere: V - F / 2 = 2.
    expect(surface.vertCount - surface.triCount / 2).toBe(2);
    for (let v = 0; v < fine.vertCount; v++) expect(cellOf[v]).toBeGreaterThanOrEqual(0);
    for (let s = 0; s < seed.length; s++) expect(cellOf[seed[s]]).toBe(s);
  });
});
