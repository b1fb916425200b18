import type { Bench } from 'tinybench';
import { buildTwins } from '../../src/core/mesh/buildTwins.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { smoothLine } from '../../src/core/parting/draw/smoothLine.ts';
import { snapPoint } from '../../src/core/parting/draw/snapPoint.ts';
import { findStrip } from '../../src/core/parting/findStrip.ts';
import { layLeg } from '../../src/core/parting/layLeg.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import { preparedFromMesh } from '../core/parting/preparedFromMesh.ts';
import { octasphere } from '../fixtures/shapes.ts';

const RADIUS_MM = 100;

/** Drawing on a sphere of 1 002 528 triangles, 200 mm across. What is made once is made before the clock starts. */
export function addDrawBench(bench: Bench): void {
  const mesh = octasphere(RADIUS_MM, 354);
  const surface = new SurfaceContext({
    ...preparedFromMesh(octasphere(RADIUS_MM, 2), false),
    mesh,
    twins: buildTwins(mesh.indices).twins,
    isSurface: new Uint8Array(mesh.indices.length / 3).fill(1),
  } satisfies PreparedScan);
  surface.closestPoint([0, 0, RADIUS_MM]);
  findStrip(surface, surface.closestPoint([1, 1, 100]), surface.closestPoint([100, 1, 1]));

  for (const [name, spanDeg] of [
    ["a hand's breadth (90 mm) apart", 51.6],
    ['a quarter of a circumference (157 mm) apart', 90],
    ['half a circumference but one degree (312 mm) apart', 179],
  ] as const) {
    let n = 0;
    bench.add(`1 million triangles: geodesic between points ${name}`, () => {
      const [a, b] = pairOf(n++, spanDeg);
      layLeg(surface, surface.closestPoint(a), surface.closestPoint(b));
    });
  }
  let n = 0;
  bench.add('1 million triangles: a point snapped, reach 9 mm, all kinds', () => {
    snapPoint(surface, pairOf(n++, 90)[0], ['ridge', 'silhouette', 'board'], 9, [0, 0, 1]);
  });
  bench.add('1 million triangles: a line of 12 points smoothed', () => {
    const ring = Array.from({ length: 12 }, (_, i): Vec3 => {
      const wobble = i % 2 ? 8 : -8;
      const around = (Math.PI * i) / 6;
      return [RADIUS_MM * Math.cos(around), RADIUS_MM * Math.sin(around), wobble];
    });
    smoothLine(surface, ring, true);
  });
}

/** Two points of the sphere `spanDeg` apart along a great circle; another pair for every `n`. */
function pairOf(n: number, spanDeg: number): [Vec3, Vec3] {
  const azimuth = ((17 + 31 * n) * Math.PI) / 180;
  const height = ((13 + 7 * (n % 4)) * Math.PI) / 180;
  const tilt = 0.7 * n;
  const span = (spanDeg * Math.PI) / 180;
  const from = [Math.cos(height) * Math.cos(azimuth), Math.cos(height) * Math.sin(azimuth), Math.sin(height)];
  const east = [-Math.sin(azimuth), Math.cos(azimuth), 0];
  const north = [
    -Math.sin(height) * Math.cos(azimuth),
    -Math.sin(height) * Math.sin(azimuth),
    Math.cos(height),
  ];
  const at = (angle: number): Vec3 => {
    const p = [0, 1, 2].map(
      (k) =>
        RADIUS_MM *
        (Math.cos(angle) * from[k] +
          Math.sin(angle) * (Math.cos(tilt) * east[k] + Math.sin(tilt) * north[k])),
    );
    return [p[0], p[1], p[2]];
  };
  return [at(0), at(span)];
}
