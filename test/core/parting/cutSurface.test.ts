import { describe, expect, it } from 'vitest';
import { PlanError } from '../../../src/core/errors.ts';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { cutSurface } from '../../../src/core/parting/cutSurface.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { CROSSED, type CutSurface, NO_REGION } from '../../../src/core/parting/types.ts';
import { cylinder, joined, moved, octasphere, openHalfSphere, torus, turned } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

// Areas are sums over the same triangles in another order: rounding only.
const AREA_SHARE = 1e-9;

const boardContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, true));
const closedContext = (mesh: TriMesh): SurfaceContext => new SurfaceContext(preparedFromMesh(mesh, false));

function areaOf(p: Float64Array, indices: Uint32Array, keep: (t: number) => boolean): number {
  let sum = 0;
  for (let t = 0; t < indices.length / 3; t++) {
    if (!keep(t)) continue;
    const [a, b, c] = [0, 1, 2].map((k) => 3 * indices[3 * t + k]);
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    sum += 0.5 * Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
  }
  return sum;
}

const regionArea = (cut: CutSurface, region: number): number =>
  areaOf(cut.positions, cut.indices, (t) => cut.cutTriRegion[t] === region);

/** Vertices less edges plus triangles, and the number of border loops, of one region of the cut mesh. */
function topologyOf(cut: CutSurface, region: number): { euler: number; loops: number } {
  const verts = new Set<number>();
  const edges = new Map<string, number>();
  const nextOnBorder = new Map<number, number>();
  let tris = 0;
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    if (cut.cutTriRegion[t] !== region) continue;
    tris++;
    for (let k = 0; k < 3; k++) {
      const a = cut.indices[3 * t + k];
      const b = cut.indices[3 * t + ((k + 1) % 3)];
      verts.add(a);
      const key = `${Math.min(a, b)},${Math.max(a, b)}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
      if (nextOnBorder.get(b) === a && edges.get(key) === 2) nextOnBorder.delete(b);
      else nextOnBorder.set(a, b);
    }
  }
  // Rebuilt from the edges used once, in their own direction.
  nextOnBorder.clear();
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    if (cut.cutTriRegion[t] !== region) continue;
    for (let k = 0; k < 3; k++) {
      const a = cut.indices[3 * t + k];
      const b = cut.indices[3 * t + ((k + 1) % 3)];
      if (edges.get(`${Math.min(a, b)},${Math.max(a, b)}`) === 1) nextOnBorder.set(a, b);
    }
  }
  let loops = 0;
  while (nextOnBorder.size > 0) {
    loops++;
    let [at] = nextOnBorder.keys();
    for (let next = nextOnBorder.get(at); next !== undefined; next = nextOnBorder.get(at)) {
      nextOnBorder.delete(at);
      at = next;
    }
  }
  return { euler: verts.size - edges.size + tris, loops };
}

/** No edge of the cut mesh is used more than twice, and edges used once are those that S had. */
function expectWatertight(surface: SurfaceContext, cut: CutSurface): void {
  const used = new Map<string, number>();
  for (let t = 0; t < cut.cutTriRegion.length; t++) {
    for (let k = 0; k < 3; k++) {
      const key = `${cut.indices[3 * t + k]},${cut.indices[3 * t + ((k + 1) % 3)]}`;
      expect(used.has(key)).toBe(false);
      used.set(key, 1);
    }
  }
  let openMm = 0;
  for (const key of used.keys()) {
    const [a, b] = key.split(',').map(Number);
    if (used.has(`${b},${a}`)) continue;
    openMm += lengthBetween(cut.positions, a, b);
  }
  let borderMm = 0;
  for (let h = 0; h < surface.links.length; h++) {
    if (surface.links[h] >= 0 || !surface.isSurface[Math.floor(h / 3)]) continue;
    borderMm += lengthBetween(
      surface.positions,
      surface.indices[h],
      surface.indices[h % 3 === 2 ? h - 2 : h + 1],
    );
  }
  expect(Math.abs(openMm - borderMm)).toBeLessThan(1e-9 * surface.diagonalMm + 1e-9 * borderMm);
}

const lengthBetween = (p: Float64Array, a: number, b: number): number =>
  Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);

function expectAreaKept(surface: SurfaceContext, cut: CutSurface): void {
  const before = areaOf(surface.positions, surface.indices, (t) => surface.isSurface[t] === 1);
  const after = areaOf(cut.positions, cut.indices, () => true);
  expect(Math.abs(after / before - 1)).toBeLessThan(AREA_SHARE);
}

const overTheTop = (azimuthDeg: number, tiltMm = 0): Vec3[] => {
  const u = (azimuthDeg * Math.PI) / 180;
  return [-1, -0.5, 0, 0.5, 1].map((s) => [
    50 * s * Math.cos(u) - tiltMm * Math.sin(u),
    50 * s * Math.sin(u) + tiltMm * Math.cos(u),
    50 * Math.sqrt(1 - s * s),
  ]);
};

describe('cutSurface', () => {
  it('cuts a dome in two discs along a slanting line', () => {
    const surface = boardContext(openHalfSphere(50, 24));
    const path = joinAlongSurface(surface, overTheTop(17, 3), false);
    const cut = cutSurface(surface, [path]);
    expect(cut.regionCount).toBe(2);
    expectAreaKept(surface, cut);
    expectWatertight(surface, cut);
    for (const region of [0, 1]) expect(topologyOf(cut, region)).toEqual({ euler: 1, loops: 1 });
    // The separating segments are the whole line.
    let lengthMm = 0;
    const e = cut.segments.ends;
    for (let i = 0; i < e.length; i += 6) {
      lengthMm += Math.hypot(e[i] - e[i + 3], e[i + 1] - e[i + 4], e[i + 2] - e[i + 5]);
    }
    expect(lengthMm / path.lengthMm).toBeCloseTo(1, 7);
  });

  it('says truly which region lies to the left', () => {
    const surface = boardContext(openHalfSphere(50, 16));
    // Walking from -x over the top to +x, seen from outside, left is +y.
    const cut = cutSurface(surface, [joinAlongSurface(surface, overTheTop(0, 1), false)]);
    const middleY = (region: number): number => {
      let sum = 0;
      for (let t = 0; t < cut.cutTriRegion.length; t++) {
        if (cut.cutTriRegion[t] !== region) continue;
        for (let k = 0; k < 3; k++) sum += cut.positions[3 * cut.indices[3 * t + k] + 1];
      }
      return sum;
    };
    for (let i = 0; i < cut.segments.count; i++) {
      expect(middleY(cut.segments.left[i])).toBeGreaterThan(0);
      expect(middleY(cut.segments.right[i])).toBeLessThan(0);
    }
  });

  it('tells whole triangles from crossed ones, and leaves the base cap out', () => {
    const mesh = cylinder(20, 40, 24);
    const isCap = (t: number): boolean =>
      [0, 1, 2].every((k) => mesh.positions[3 * mesh.indices[3 * t + k] + 2] === 0);
    const surface = new SurfaceContext(preparedFromMesh(mesh, true, isCap));
    const line: Vec3[] = [
      [20, 1, 0],
      [0.3, 1, 40],
      [-20, 1, 0],
    ];
    const cut = cutSurface(surface, [joinAlongSurface(surface, line, false)]);
    expect(cut.regionCount).toBe(2);
    expectAreaKept(surface, cut);
    for (let t = 0; t < mesh.indices.length / 3; t++) {
      const regions = new Set<number>();
      for (let i = 0; i < cut.cutTriSource.length; i++) {
        if (cut.cutTriSource[i] === t) regions.add(cut.cutTriRegion[i]);
      }
      if (isCap(t)) expect(cut.triRegion[t]).toBe(NO_REGION);
      else if (regions.size > 1) expect(cut.triRegion[t]).toBe(CROSSED);
      else expect([...regions]).toEqual([cut.triRegion[t]]);
    }
    expect(cut.triRegion.includes(CROSSED)).toBe(true);
  });

  // Archimedes, On the Sphere and Cylinder I: the cap cut off by a plane at height h from the pole has area 2 pi R h.
  it('a closed horizontal circle cuts off a spherical cap of area 2 pi R h', () => {
    const surface = closedContext(octasphere(50, 96));
    const z = 30;
    const r = Math.sqrt(50 * 50 - z * z);
    // 400 straight legs against the circle: a chord error of r (1 - cos(pi/400)), far below the facets' own.
    const circle = Array.from({ length: 400 }, (_, i): Vec3 => {
      const u = (2 * Math.PI * i) / 400;
      return [r * Math.cos(u), r * Math.sin(u), z];
    });
    const cut = cutSurface(surface, [joinAlongSurface(surface, circle, true)]);
    expect(cut.regionCount).toBe(2);
    expectAreaKept(surface, cut);
    const areas = [regionArea(cut, 0), regionArea(cut, 1)].sort((a, b) => a - b);
    // The facets (edges up to 1.05 mm on R = 50) lie inside the sphere: area short by at most (e/R)^2 / 4 or so, 1.2e-4.
    expect(Math.abs(areas[0] / (2 * Math.PI * 50 * (50 - z)) - 1)).toBeLessThan(3e-4);
    expect(Math.abs(areas[1] / (2 * Math.PI * 50 * (50 + z)) - 1)).toBeLessThan(3e-4);
    for (const region of [0, 1]) expect(topologyOf(cut, region)).toEqual({ euler: 1, loops: 1 });
  });

  it('a line along the mesh edges cuts between whole triangles', () => {
    const dome = openHalfSphere(50, 12);
    const surface = boardContext(dome);
    // A convex vertex is never on a shortest way, so the line is held on the edges by a point at each vertex.
    const onArc: Vec3[] = [];
    for (let i = 0; i < dome.positions.length; i += 3) {
      const [x, y, z] = dome.positions.subarray(i, i + 3);
      if (y === 0) onArc.push([x, y, z]);
    }
    onArc.sort((a, b) => a[0] - b[0]);
    const cut = cutSurface(surface, [joinAlongSurface(surface, onArc, false)]);
    expect(cut.regionCount).toBe(2);
    expect(cut.indices.length).toBe(dome.indices.length);
    expectAreaKept(surface, cut);
    expect(regionArea(cut, 0) / regionArea(cut, 1)).toBeCloseTo(1, 9);
    for (const region of [0, 1]) expect(topologyOf(cut, region)).toEqual({ euler: 1, loops: 1 });
  });

  it('two crossing lines make four pieces', () => {
    for (const [a, b] of [
      [13, 101],
      [0, 90],
      [0, 45],
      [5, 8],
    ]) {
      const surface = boardContext(openHalfSphere(50, 12));
      const lines = [a, b].map((azimuth, i) =>
        joinAlongSurface(surface, overTheTop(azimuth, 0.7 * i), false),
      );
      const cut = cutSurface(surface, lines);
      expect(cut.regionCount).toBe(4);
      expectAreaKept(surface, cut);
      expectWatertight(surface, cut);
      for (let r = 0; r < 4; r++) expect(topologyOf(cut, r)).toEqual({ euler: 1, loops: 1 });
    }
  });

  it('a T junction makes three pieces', () => {
    const surface = boardContext(openHalfSphere(50, 12));
    const first = joinAlongSurface(surface, overTheTop(11, 0.4), false);
    const half = overTheTop(97, 0.2).slice(0, 3);
    const second = joinAlongSurface(surface, half, false, [first]);
    const cut = cutSurface(surface, [first, second]);
    expect(cut.regionCount).toBe(3);
    expectAreaKept(surface, cut);
    expectWatertight(surface, cut);
    for (let r = 0; r < 3; r++) expect(topologyOf(cut, r)).toEqual({ euler: 1, loops: 1 });
  });

  it('two loops round the tube part a torus in two rings', () => {
    const surface = closedContext(torus(40, 12, 60, 24));
    const ringAt = (u: number): Vec3[] =>
      [0, 1, 2, 3, 4, 5].map((i) => {
        const v = (2 * Math.PI * i) / 6;
        const r = 40 + 12 * Math.cos(v);
        return [r * Math.cos(u), r * Math.sin(u), 12 * Math.sin(v)];
      });
    const loops = [0.31, 2.2].map((u) => joinAlongSurface(surface, ringAt(u), true));
    const cut = cutSurface(surface, loops);
    expect(cut.regionCount).toBe(2);
    expectAreaKept(surface, cut);
    for (const region of [0, 1]) expect(topologyOf(cut, region)).toEqual({ euler: 0, loops: 2 });
    // One loop alone separates nothing on a torus.
    expect(() => cutSurface(surface, [loops[0]])).toThrowError(/separates nothing/);
  });

  it('names the line that separates nothing', () => {
    const surface = boardContext(openHalfSphere(50, 12));
    const good = joinAlongSurface(surface, overTheTop(11, 0.4), false);
    // The same line once more has the same region on both sides of what is left to it.
    try {
      cutSurface(surface, [good, good]);
    } catch (error) {
      expect(error).toBeInstanceOf(PlanError);
      expect((error as PlanError).code).toBe('bad-line');
      expect((error as PlanError).message).toMatch(/^Parting line 2 separates nothing/);
      return;
    }
    expect.fail('no error');
  });

  it('only lines part: a stray part goes to the nearest region', () => {
    const surface = boardContext(joined(openHalfSphere(50, 12), moved(openHalfSphere(5, 4), [0, 80, 0])));
    expect(cutSurface(surface, []).regionCount).toBe(1);
    const cut = cutSurface(surface, [joinAlongSurface(surface, overTheTop(0, 1), false)]);
    expect(cut.regionCount).toBe(2);
    expectAreaKept(surface, cut);
    const stray = cut.cutTriSource.findLastIndex((t) => t >= surface.triCount - 8);
    expect(cut.cutTriRegion[stray]).toBe(cut.segments.left[0]);
  });

  it('gives the same areas however the scan is turned', () => {
    const dome = openHalfSphere(50, 12);
    const line = overTheTop(17, 3);
    const areas = (mesh: TriMesh, points: Vec3[]): number[] => {
      const surface = boardContext(mesh);
      const cut = cutSurface(surface, [joinAlongSurface(surface, points, false)]);
      return [regionArea(cut, 0), regionArea(cut, 1)].sort((a, b) => a - b);
    };
    const plain = areas(dome, line);
    const angle = 0.7;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const other = areas(
      turned(dome, [0, 0, 1], angle),
      line.map(([x, y, z]): Vec3 => [c * x - s * y, s * x + c * y, z]),
    );
    expect(other[0] / plain[0]).toBeCloseTo(1, 6);
    expect(other[1] / plain[1]).toBeCloseTo(1, 6);
  });
});
