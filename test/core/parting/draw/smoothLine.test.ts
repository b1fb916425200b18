import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { countCrossings } from '../../../../src/core/parting/draw/countCrossings.ts';
import { smoothLine } from '../../../../src/core/parting/draw/smoothLine.ts';
import { joinAlongSurface } from '../../../../src/core/parting/joinAlongSurface.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { octasphere, openHalfSphere } from '../../../fixtures/shapes.ts';
import { preparedFromMesh } from '../preparedFromMesh.ts';

const R = 50;
const surface = new SurfaceContext(preparedFromMesh(openHalfSphere(R, 32), true));
const sphere = new SurfaceContext(preparedFromMesh(octasphere(R, 32), false));

/** From board to board over the top, to and fro by `swingDeg`. */
const zigzag = (swingDeg: number): Vec3[] =>
  Array.from({ length: 13 }, (_, i): Vec3 => {
    const along = (Math.PI * i) / 12;
    const off = i === 0 || i === 12 ? 0 : ((i % 2 ? 1 : -1) * swingDeg * Math.PI) / 180;
    return [R * Math.cos(along) * Math.cos(off), R * Math.sin(off), R * Math.sin(along) * Math.cos(off)];
  });

const ring = (z: number, count: number): Vec3[] =>
  Array.from({ length: count }, (_, i): Vec3 => {
    const r = Math.sqrt(R * R - z * z);
    return [r * Math.cos((2 * Math.PI * i) / count), r * Math.sin((2 * Math.PI * i) / count), z];
  });

const swing = (points: readonly Vec3[]): number => Math.max(...points.map((p) => Math.abs(p[1])));

describe('smoothLine', () => {
  it('takes a zigzag nearly out and keeps the ends to the bit', () => {
    const points = zigzag(4);
    const first = surface.closestPoint(points[0]);
    const out = smoothLine(surface, points, false);
    expect(out[0]).toEqual([first.x, first.y, first.z]);
    // The Laplacian takes a zigzag times -2, its square times 4: the gain is hold / (hold + 4) = 0.21 with hold = 1 / (4 0.7^4).
    // Points next to a fixed end have a neighbour less that pulls them straight, and keep more; at most two fifths.
    expect(swing(out.slice(4, 9))).toBeLessThan(0.25 * swing(points));
    expect(swing(out)).toBeLessThan(0.4 * swing(points));
    expect(joinAlongSurface(surface, out, false).lengthMm).toBeLessThan(
      joinAlongSurface(surface, points, false).lengthMm,
    );
  });

  it('all its points lie on the surface', () => {
    for (const [x, y, z] of smoothLine(surface, zigzag(6), false)) {
      const on = surface.closestPoint([x, y, z]);
      expect(Math.hypot(on.x - x, on.y - y, on.z - z)).toBeLessThan(1e-9 * R);
    }
  });

  it('smooths further when pressed again, and comes to rest', () => {
    let points: readonly Vec3[] = zigzag(4);
    let last = swing(points);
    for (let n = 0; n < 3; n++) {
      points = smoothLine(surface, points, false);
      expect(swing(points)).toBeLessThan(last);
      last = swing(points);
    }
    expect(last).toBeLessThan(0.02 * R);
  });

  // The Laplacian takes a ring of 12 points times cos 30 deg - 1 = -0.134: the gain is hold / (hold + 0.134^2) = 0.983.
  it('leaves a ring its size and its height', () => {
    const out = smoothLine(sphere, ring(20, 12), true);
    const r = Math.sqrt(R * R - 400);
    for (const [x, y, z] of out) {
      expect(Math.abs(Math.hypot(x, y) / r - 1)).toBeLessThan(0.02);
      expect(Math.abs(z - 20)).toBeLessThan(1);
    }
  });

  it('puts points between where there are few', () => {
    const out = smoothLine(sphere, ring(20, 4), true);
    expect(out.length).toBe(16);
    joinAlongSurface(sphere, out, true);
  });

  it('does not cross a line beside it that it did not cross before', () => {
    // The neighbour comes up into the line's one deep bend, which the smooth line cuts off.
    const bent = zigzag(0).map((p, i): Vec3 => {
      if (i !== 6) return p;
      const off = 0.6;
      return [0, R * Math.sin(off), R * Math.cos(off)];
    });
    const beside = joinAlongSurface(
      surface,
      [
        [0, 0.4 * R, 45.8],
        [0, -R, 0],
      ],
      false,
      [],
      'kept',
    );
    const before = joinAlongSurface(surface, bent, false);
    expect(countCrossings(surface, before, [beside])).toBe(0);
    const out = joinAlongSurface(surface, smoothLine(surface, bent, false, [beside]), false);
    expect(countCrossings(surface, out, [beside])).toBe(0);
    // Without the neighbour it goes further: what kept it back was the neighbour.
    const free = joinAlongSurface(surface, smoothLine(surface, bent, false), false);
    expect(countCrossings(surface, free, [beside])).toBeGreaterThan(0);
  });

  it('is the same again for the same line', () => {
    expect(smoothLine(surface, zigzag(4), false)).toEqual(smoothLine(surface, zigzag(4), false));
  });
});
