import { describe, expect, it } from 'vitest';
import { meshArea, triArea } from '../../../src/core/mesh/measure.ts';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { cutSurface } from '../../../src/core/parting/cutSurface.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { regionAreas } from '../../../src/core/parting/regionAreas.ts';
import { regionBoxes } from '../../../src/core/parting/regionBoxes.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { TILE_SUMS } from '../../../src/core/parting/SurfaceTiles.ts';
import { sumOfRegions } from '../../../src/core/parting/sumOfRegions.ts';
import type { CutSurface } from '../../../src/core/parting/types.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { joined, moved, octasphere, openHalfSphere, torus } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

// Sums over the same triangles in another order: rounding only.
const ROUNDING = 1e-9;

const BODIES: readonly (readonly [string, TriMesh, boolean])[] = [
  ['a ball', octasphere(40, 24), false],
  ['half a ball on the board', openHalfSphere(40, 24), true],
  ['a ring', torus(60, 20, 64, 32), false],
  ['two balls apart', joined(octasphere(20, 20), moved(octasphere(20, 20), [60, 0, 0])), false],
];

const contextOf = (mesh: TriMesh, onBoard: boolean): SurfaceContext =>
  new SurfaceContext(preparedFromMesh(mesh, onBoard));

describe('tiles', () => {
  it.each(BODIES)('of %s hold every triangle once, each tile in one piece', (_, mesh, onBoard) => {
    const { tiles, links, triCount } = contextOf(mesh, onBoard);
    expect(tiles.count).toBeGreaterThan(4);
    expect([...tiles.tris].sort((a, b) => a - b)).toEqual(Array.from({ length: triCount }, (_, t) => t));
    for (let tile = 0; tile < tiles.count; tile++) {
      const own = [...tiles.tris.subarray(tiles.starts[tile], tiles.starts[tile + 1])];
      expect(own.length).toBeGreaterThan(0);
      const beside = new Set<number>();
      const reached = new Set([own[0]]);
      for (const t of reached) {
        expect(tiles.tileOf[t]).toBe(tile);
        for (const over of links.subarray(3 * t, 3 * t + 3)) {
          if (over < 0) continue;
          const next = Math.floor(over / 3);
          if (tiles.tileOf[next] === tile) reached.add(next);
          else beside.add(tiles.tileOf[next]);
        }
      }
      expect(reached.size).toBe(own.length);
      const listed = tiles.neighbours.subarray(tiles.neighbourStarts[tile], tiles.neighbourStarts[tile + 1]);
      expect([...listed].sort((a, b) => a - b)).toEqual([...beside].sort((a, b) => a - b));
    }
  });

  it.each(BODIES)('of %s add up to it', (_, mesh, onBoard) => {
    const { tiles } = contextOf(mesh, onBoard);
    const whole = new Float64Array(TILE_SUMS);
    for (let n = 0; n < tiles.sums.length; n++) whole[n % TILE_SUMS] += tiles.sums[n];
    const areaMm2 = meshArea(mesh);
    expect(whole[0] / areaMm2).toBeCloseTo(1, 9);
    // A closed surface faces every way alike: what an open one lacks lies on the board and faces down.
    expect(Math.hypot(whole[1], whole[2]) / areaMm2).toBeLessThan(ROUNDING);
    expect(whole[3] / areaMm2).toBeCloseTo(onBoard ? 0.5 : 0, 2);
  });
});

const RADIUS_MM = 40;

/** A ball parted by a closed line through random points, as a user may draw one. */
function cutAtRandom(surface: SurfaceContext, seed: number): CutSurface {
  const random = seededRandom(seed);
  const heightMm = -12 + 24 * random();
  const points = Array.from({ length: 6 }, (_, n): Vec3 => {
    const turn = (2 * Math.PI * n) / 6 + 0.4 * random();
    const z = heightMm + 8 * random();
    const acrossMm = Math.sqrt(RADIUS_MM ** 2 - z * z);
    return [acrossMm * Math.cos(turn), acrossMm * Math.sin(turn), z];
  });
  return cutSurface(surface, [joinAlongSurface(surface, points, true, [])]);
}

/** Sets of cut triangles that hang together across edges that no segment runs along: told apart anew, triangle by triangle. */
function setsOf(cut: CutSurface): Int32Array {
  const corner = (p: Float64Array, at: number): string => `${p[at]},${p[at + 1]},${p[at + 2]}`;
  const walls = new Set<string>();
  for (let s = 0; s < cut.segments.count; s++) {
    const [a, b] = [corner(cut.segments.ends, 6 * s), corner(cut.segments.ends, 6 * s + 3)];
    walls.add(`${a} ${b}`).add(`${b} ${a}`);
  }
  const into = Int32Array.from(cut.cutTriRegion, (_, t) => t);
  const root = (t: number): number => {
    let at = t;
    while (into[at] !== at) at = into[at];
    return at;
  };
  const left = new Map<string, number>();
  const edge = (t: number, k: number, isBack: boolean): string => {
    const a = corner(cut.positions, 3 * cut.indices[3 * t + k]);
    const b = corner(cut.positions, 3 * cut.indices[3 * t + ((k + 1) % 3)]);
    return isBack ? `${b} ${a}` : `${a} ${b}`;
  };
  for (let t = 0; t < into.length; t++) for (let k = 0; k < 3; k++) left.set(edge(t, k, false), t);
  for (let t = 0; t < into.length; t++) {
    for (let k = 0; k < 3; k++) {
      const over = left.get(edge(t, k, true));
      if (over !== undefined && !walls.has(edge(t, k, false))) into[root(t)] = root(over);
    }
  }
  return into.map((_, t) => root(t));
}

describe('a cut surface by its tiles', () => {
  const surface = contextOf(octasphere(RADIUS_MM, 40), false);

  it.each([1, 2, 3, 4, 5, 6])('has the regions that its lines part, seed %i', (seed) => {
    const cut = cutAtRandom(surface, seed);
    const sets = setsOf(cut);
    expect(cut.regionCount).toBe(2);
    expect(new Set(sets).size).toBe(2);
    expect(new Set(sets.map((set, t) => 2 * set + cut.cutTriRegion[t])).size).toBe(2);
  });

  it.each([1, 2, 3])('is its tiles and what is loose, each triangle once, seed %i', (seed) => {
    const cut = cutAtRandom(surface, seed);
    const { tiles, tileRegion, loose } = cut.parts;
    const cutOfScan = new Map<number, number[]>();
    cut.cutTriSource.forEach((source, i) => {
      cutOfScan.set(source, [...(cutOfScan.get(source) ?? []), i]);
    });
    const seen = [...loose];
    let taken = 0;
    for (let tile = 0; tile < tiles.count; tile++) {
      if (tileRegion[tile] < 0) continue;
      taken++;
      for (const t of tiles.tris.subarray(tiles.starts[tile], tiles.starts[tile + 1])) {
        const parts = cutOfScan.get(t) ?? [];
        expect(parts.length).toBe(1);
        expect(cut.cutTriRegion[parts[0]]).toBe(tileRegion[tile]);
        seen.push(parts[0]);
      }
    }
    expect(taken).toBeGreaterThan(tiles.count / 4);
    expect(seen.sort((a, b) => a - b)).toEqual(Array.from(cut.cutTriSource, (_, i) => i));
  });

  it.each([1, 2, 3])('is measured as triangle by triangle, seed %i', (seed) => {
    const cut = cutAtRandom(surface, seed);
    const areas = new Float64Array(2);
    const boxes = [0, 1].map(() => ({ min: [99, 99, 99], max: [-99, -99, -99] }));
    for (let t = 0; t < cut.cutTriRegion.length; t++) {
      areas[cut.cutTriRegion[t]] += triArea(cut, t);
      const { min, max } = boxes[cut.cutTriRegion[t]];
      for (const v of cut.indices.subarray(3 * t, 3 * t + 3)) {
        for (let k = 0; k < 3; k++) {
          min[k] = Math.min(min[k], cut.positions[3 * v + k]);
          max[k] = Math.max(max[k], cut.positions[3 * v + k]);
        }
      }
    }
    const sums = sumOfRegions(cut);
    for (const region of [0, 1]) {
      expect(sums[TILE_SUMS * region] / areas[region]).toBeCloseTo(1, 9);
      // The two face each other over the same cut.
      for (let k = 1; k < 4; k++) expect(sums[k] + sums[TILE_SUMS + k]).toBeCloseTo(0, 6);
    }
    expect(regionBoxes(cut)).toEqual(boxes);
  });

  it('leaves out what is kept clear, whether a ball covers tiles or parts of triangles', () => {
    const cut = cutAtRandom(surface, 1);
    // A cap: a ball about a point of a sphere takes off a circle of area pi r^2, whatever the sphere's radius.
    const ball = { centreMm: [0, 0, RADIUS_MM] as const, radiusMm: 15 };
    const [whole, open] = [regionAreas(cut, []), regionAreas(cut, [ball])];
    const clearMm2 = whole[0] + whole[1] - open[0] - open[1];
    expect(clearMm2 / (Math.PI * 15 ** 2)).toBeCloseTo(1, 2);
  });
});
