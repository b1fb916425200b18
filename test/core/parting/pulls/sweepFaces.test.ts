import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { directionGrid } from '../../../../src/core/parting/pulls/directionGrid.ts';
import { sweepFaces } from '../../../../src/core/parting/pulls/sweepFaces.ts';
import { SurfaceTree } from '../../../../src/core/spatial/SurfaceTree.ts';
import { seededRandom } from '../../../fixtures/seededRandom.ts';
import { joined, moved, octasphere, scaled, torus, turned } from '../../../fixtures/shapes.ts';

interface Face {
  readonly centre: Vec3;
  readonly normal: Vec3;
  readonly area: number;
}

function faceOf({ positions: p, indices }: TriMesh, t: number): Face {
  const [a, b, c] = [0, 1, 2].map((k) => 3 * indices[3 * t + k]);
  const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
  const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(...n);
  return {
    centre: [0, 1, 2].map((k) => (p[a + k] + p[b + k] + p[c + k]) / 3) as unknown as Vec3,
    normal: n.map((x) => x / length) as unknown as Vec3,
    area: length / 2,
  };
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** A lumpy ball with a deep waist: shadows of every kind. */
function lumpyBall(n: number): TriMesh {
  const mesh = octasphere(50, n);
  const positions = mesh.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const w = 1 + 0.18 * Math.sin(positions[i] * 0.11) * Math.cos(positions[i + 2] * 0.13);
    for (let k = 0; k < 3; k++) positions[i + k] *= w;
  }
  return { positions, indices: mesh.indices };
}

const bodies: readonly (readonly [string, TriMesh])[] = [
  ['lumpy ball', lumpyBall(24)],
  ['torus', turned(torus(40, 12, 120, 48), [1, 0.3, 0.2], 0.7)],
  ['two balls, one above the other', joined(octasphere(30, 16), moved(octasphere(20, 12), [12, 5, 60]))],
];

function randomDirections(count: number, seed: number): Float32Array {
  const random = seededRandom(seed);
  const out: number[] = [];
  while (out.length < 3 * count) {
    const d = [2 * random() - 1, 2 * random() - 1, 2 * random() - 1];
    const length = Math.hypot(...d);
    if (length > 0.1 && length < 1) out.push(...d.map((x) => x / length));
  }
  return Float32Array.from(out);
}

describe('sweepFaces', () => {
  it.each(bodies)(
    '%s: hidden as by rays, but for faces within a pixel of a silhouette; seed 5',
    async (_, mesh) => {
      const directions = randomDirections(12, 5);
      const sweep = await sweepFaces(mesh, directions, new Checkpoint(), false);
      const tree = new SurfaceTree(mesh);
      let wrongArea = 0;
      let allArea = 0;
      let gravelyWrong = 0;
      for (let i = 0; i < 12; i++) {
        const d: Vec3 = [directions[3 * i], directions[3 * i + 1], directions[3 * i + 2]];
        for (let t = 0; t < sweep.faceCount; t++) {
          const { centre, normal, area } = faceOf(mesh, t);
          const at = i * sweep.faceCount + t;
          const from = centre.map((x, k) => x + 1e-6 * normal[k]) as unknown as Vec3;
          const isHidden = dot(normal, d) < 0 || tree.firstHit(from, d) !== null;
          allArea += area;
          if (isHidden === (sweep.hidden[at] === 1)) continue;
          wrongArea += area;
          // Where the two differ the lock is within two pixels deep, or the ray passes the edge of what stands over it.
          if (sweep.depthMm[at] > 2 * sweep.pixelMm) gravelyWrong += area;
        }
      }
      // Shadow edges of these bodies are up to ten times their size long; a strip of a third of a pixel beside them errs.
      expect(wrongArea / allArea).toBeLessThan(0.015);
      expect(gravelyWrong / allArea).toBeLessThan(0.002);
    },
  );

  it.each(bodies)(
    '%s: a shift of the depth frees the face, one of two pixels less does not; seed 9',
    async (_, mesh) => {
      const directions = randomDirections(6, 9);
      const sweep = await sweepFaces(mesh, directions, new Checkpoint(), false);
      const tree = new SurfaceTree(mesh);
      const random = seededRandom(10);
      const slackMm = 2 * sweep.pixelMm;
      let asked = 0;
      let tooDeep = 0;
      let tooShallow = 0;
      for (let n = 0; n < 500; n++) {
        const i = Math.floor(random() * 6);
        const t = Math.floor(random() * sweep.faceCount);
        const at = i * sweep.faceCount + t;
        if (!sweep.hidden[at]) continue;
        asked++;
        const d: Vec3 = [directions[3 * i], directions[3 * i + 1], directions[3 * i + 2]];
        const { centre, normal } = faceOf(mesh, t);
        const from = centre.map((x, k) => x + 1e-6 * normal[k]) as unknown as Vec3;
        // Clear within `radius`: any of 72 shifts, on rings half a pixel apart.
        const isFreed = (fromMm: number, toMm: number): boolean => {
          for (let r = fromMm; r <= toMm; r += sweep.pixelMm / 2) {
            for (let a = 0; a < 72; a++) {
              const s = shiftSquareTo(d, r, (2 * Math.PI * a) / 72);
              const moved = from.map((x, k) => x + s[k]) as unknown as Vec3;
              if (tree.firstHit(moved, d) === null) return true;
            }
          }
          return false;
        };
        const depth = sweep.depthMm[at];
        if (!isFreed(Math.max(0, depth - slackMm), depth + slackMm)) tooShallow++;
        if (depth > slackMm && isFreed(0, depth - slackMm)) tooDeep++;
      }
      expect(asked).toBeGreaterThan(150);
      expect(tooShallow / asked).toBeLessThan(0.02);
      expect(tooDeep / asked).toBeLessThan(0.02);
    },
  );

  it('depth below a sphere is R (1 - cos a), to two pixels', async () => {
    const mesh = octasphere(50, 40);
    const sweep = await sweepFaces(mesh, Float32Array.of(0, 0, 1), new Checkpoint(), false);
    for (let t = 0; t < sweep.faceCount; t++) {
      const { centre, normal } = faceOf(mesh, t);
      const below = Math.asin(Math.max(-1, Math.min(1, -centre[2] / Math.hypot(...centre))));
      const depth = below > 0 ? 50 * (1 - Math.cos(below)) : 0;
      if (Math.abs(normal[2]) > 0.02) expect(sweep.hidden[t]).toBe(normal[2] < 0 ? 1 : 0);
      expect(Math.abs(sweep.depthMm[t] - depth)).toBeLessThan(2 * sweep.pixelMm);
    }
  });

  it('is the same for a mesh a thousand times the size, with depths in its unit', async () => {
    const directions = randomDirections(5, 2);
    const [, small] = bodies[0];
    const a = await sweepFaces(small, directions, new Checkpoint(), false);
    const b = await sweepFaces(scaled(small, [1024, 1024, 1024]), directions, new Checkpoint(), false);
    expect(b.hidden).toEqual(a.hidden);
    expect(b.pixelMm).toBeCloseTo(1024 * a.pixelMm, 9);
    expect(b.depthMm.every((x, i) => Math.abs(x - 1024 * a.depthMm[i]) <= 1e-3 * b.pixelMm)).toBe(true);
  });

  it('reports progress up to 1 and stops when cancelled', async () => {
    const seen: number[] = [];
    const [, mesh] = bodies[0];
    await sweepFaces(mesh, directionGrid(true, 20), new Checkpoint((fraction) => seen.push(fraction)));
    expect(seen.at(-1)).toBe(1);
    expect(seen.every((x, i) => i === 0 || x >= seen[i - 1])).toBe(true);
    const stop = new AbortController();
    stop.abort();
    const cancelled = sweepFaces(mesh, directionGrid(true, 20), new Checkpoint(undefined, stop.signal));
    await expect(cancelled).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('directionGrid', () => {
  it.each([
    [true, 6.5],
    [false, 6.5],
    [true, 30],
    [false, 90],
  ])(
    'on a board: %s, step %d: unit vectors, none twice, no gap wider than the step, the opposite of each',
    (onBoard, step) => {
      const grid = directionGrid(onBoard, step);
      const at = (i: number): Vec3 => [grid[3 * i], grid[3 * i + 1], grid[3 * i + 2]];
      const n = grid.length / 3;
      for (let i = 0; i < n; i++) {
        const d = at(i);
        expect(Math.hypot(...d)).toBeCloseTo(1, 6);
        if (onBoard) expect(d[2]).toBeGreaterThanOrEqual(0);
        const opposite: Vec3 = [-d[0], -d[1], onBoard ? d[2] : -d[2]];
        let nearest = -1;
        let nearestOther = -1;
        for (let j = 0; j < n; j++) {
          nearest = Math.max(nearest, dot(opposite, at(j)));
          if (j !== i) nearestOther = Math.max(nearestOther, dot(d, at(j)));
        }
        expect(nearest).toBeGreaterThan(1 - 1e-6);
        expect(nearestOther).toBeLessThan(1 - 1e-6);
      }
      // No direction is further from the grid than the half diagonal of a square of the step.
      const random = seededRandom(1);
      const reach = Math.cos((step * Math.SQRT1_2 * 1.05 * Math.PI) / 180);
      for (let k = 0; k < 400; k++) {
        const z = onBoard ? random() : 2 * random() - 1;
        const a = 2 * Math.PI * random();
        const r = Math.sqrt(1 - z * z);
        const d: Vec3 = [r * Math.cos(a), r * Math.sin(a), z];
        let nearest = -1;
        for (let j = 0; j < n; j++) nearest = Math.max(nearest, dot(d, at(j)));
        expect(nearest).toBeGreaterThan(reach);
      }
    },
  );

  it('refuses a step that is none', () => {
    expect(() => directionGrid(true, 0)).toThrow(RangeError);
    expect(() => directionGrid(true, Number.NaN)).toThrow(RangeError);
  });
});

/** A vector of this length square to d, turned by the angle. */
function shiftSquareTo(d: Vec3, length: number, angle: number): Vec3 {
  const other: Vec3 = Math.abs(d[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const u = [
    d[1] * other[2] - d[2] * other[1],
    d[2] * other[0] - d[0] * other[2],
    d[0] * other[1] - d[1] * other[0],
  ];
  const size = Math.hypot(...u);
  const v = [d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0]];
  const c = (length * Math.cos(angle)) / size;
  const s = (length * Math.sin(angle)) / size;
  return [c * u[0] + s * v[0], c * u[1] + s * v[1], c * u[2] + s * v[2]];
}
