import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { TriMesh, Vec3 } from '../../src/core/mesh/TriMesh.ts';
import { SurfaceTree } from '../../src/core/spatial/SurfaceTree.ts';
import { drawTouch } from '../../src/jobs/drawTouch.ts';
import type { SurfacePicture } from '../../src/jobs/protocol.ts';
import { box, octasphere } from '../fixtures/shapes.ts';

const RADIUS_MM = 40;
const SHELL_MM = 50;
const SLACK_MM = 2;

const picture = (mesh: TriMesh): SurfacePicture => ({
  positions: Float32Array.from(mesh.positions),
  indices: mesh.indices,
});
const touch = (rubber: TriMesh, shell: SurfacePicture, pull: Vec3, slackMm: number) =>
  drawTouch(rubber, new SurfaceTree(rubber), shell, pull, slackMm, new Checkpoint());

describe('drawTouch', () => {
  it('a vertex slides into a sphere and out of it where its line meets the sphere', async () => {
    // Edges of at most sqrt(6) R / 64 = 1.5 mm: facets lie within 0.01 mm of the sphere (their circumradius squared over 2 R),
    // and the mean of a corner's facets is off the radius by some 0.01 rad, which moves the taken-back vertex by 0.02 mm. A
    // line with half a chord h in the sphere meets it within R / h (here 3.3) times their sum, 0.1 mm.
    const rubber = octasphere(RADIUS_MM, 64);
    const shell = picture(octasphere(SHELL_MM, 12));
    const pull: Vec3 = [0.6, 0, 0.8];
    const { fromMm, toMm } = await touch(rubber, shell, pull, SLACK_MM);
    const r = SHELL_MM - SLACK_MM;
    let met = 0;
    let free = 0;
    for (let v = 0; v < fromMm.length; v++) {
      const p = [0, 1, 2].map((k) => (shell.positions[3 * v + k] / SHELL_MM) * r);
      const along = p[0] * pull[0] + p[1] * pull[1] + p[2] * pull[2];
      // Half the chord of the line in the sphere: Pythagoras.
      const half = Math.sqrt(RADIUS_MM ** 2 - (r * r - along * along));
      if (Math.abs(along) < 1 || Math.abs(half) < 12) continue;
      if (along < 0 && half > 0) {
        met++;
        expect(Math.abs(fromMm[v] - (-along - half))).toBeLessThan(0.1);
        expect(Math.abs(toMm[v] - (-along + half))).toBeLessThan(0.1);
      } else {
        free++;
        expect([fromMm[v], toMm[v]]).toEqual([Infinity, Infinity]);
      }
    }
    expect(met).toBeGreaterThan(50);
    expect(free).toBeGreaterThan(50);
  });

  it('a shell drawn a little into the rubber touches nothing where it pulls straight off', async () => {
    // The box's top and walls, drawn 0.4 mm too small: everything begins inside, nothing locks upward but by the slack.
    const rubber = box(60, 40, 30);
    const inner = box(59.2, 39.2, 29.6);
    // Turned inside out: a shell's inner face looks at the rubber.
    const shell = {
      positions: Float32Array.from(inner.positions, (x, i) => (i % 3 === 2 ? x + 0.2 : x)),
      indices: inner.indices.slice().reverse(),
    };
    const { fromMm } = await touch(rubber, shell, [0, 0, 1], 1);
    const tops = [...fromMm.keys()].filter((v) => shell.positions[3 * v + 2] > 15);
    expect(tops.length).toBeGreaterThan(0);
    for (const v of tops) expect(fromMm[v]).toBe(Infinity);
  });

  it('a vertex drawn into the rubber is taken as lying on its nearest face', async () => {
    // Drawn 3 mm into the under side and into the top: the first meets the rubber as it moves up, the other is free.
    const rubber = box(60, 40, 30);
    const tri = (z: number) => [25, 15, z, 35, 15, z, 30, 25, z];
    const shell: SurfacePicture = {
      positions: Float32Array.from([...tri(3), ...tri(27)]),
      indices: Uint32Array.of(0, 1, 2, 3, 5, 4),
    };
    const { fromMm, toMm } = await touch(rubber, shell, [0, 0, 1], 1);
    for (const v of [0, 1, 2]) {
      expect(fromMm[v]).toBeCloseTo(1, 5);
      expect(toMm[v]).toBeCloseTo(31, 4);
    }
    for (const v of [3, 4, 5]) expect(fromMm[v]).toBe(Infinity);
  });

  it('under a ledge it touches when it has closed the gap', async () => {
    const rubber = box(60, 40, 30);
    const shell: SurfacePicture = {
      positions: Float32Array.of(25, 15, -2, 35, 15, -2, 30, 25, -2),
      indices: Uint32Array.of(0, 1, 2),
    };
    const lowest = Math.min(...rubber.positions.filter((_, i) => i % 3 === 2));
    const highest = Math.max(...rubber.positions.filter((_, i) => i % 3 === 2));
    for (let v = 0; v < 3; v++) shell.positions[3 * v + 2] += lowest;
    const { fromMm, toMm } = await touch(rubber, shell, [0, 0, 1], 0.5);
    // Two millimetres below the ledge, its face taken back by half a millimetre more.
    for (let v = 0; v < 3; v++) {
      expect(fromMm[v]).toBeCloseTo(2.5, 5);
      expect(toMm[v]).toBeCloseTo(2.5 + highest - lowest, 4);
    }
  });
});
