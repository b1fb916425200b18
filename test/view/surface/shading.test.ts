import { describe, expect, test } from 'vitest';
import { creaseNormals } from '../../../src/core/picture/creaseNormals.ts';
import { computeBoardShadow } from '../../../src/view/surface/computeBoardShadow.ts';
import { DepthMaps } from '../../../src/view/surface/DepthMaps.ts';
import { smoothAperture } from '../../../src/view/surface/smoothAperture.ts';
import { ended } from '../../fixtures/ended.ts';

interface Surface {
  readonly positions: Float32Array;
  readonly indices: Uint32Array;
}

/** Lattice of cells over the unit square, put in place by `at`; counter-clockwise seen from where u x v points. */
function lattice(cells: number, at: (u: number, v: number) => readonly number[]): Surface {
  const positions: number[] = [];
  const indices: number[] = [];
  for (let j = 0; j <= cells; j++) {
    for (let i = 0; i <= cells; i++) positions.push(...at(i / cells, j / cells));
  }
  for (let j = 0; j < cells; j++) {
    for (let i = 0; i < cells; i++) {
      const a = j * (cells + 1) + i;
      indices.push(a, a + 1, a + cells + 2, a, a + cells + 2, a + cells + 1);
    }
  }
  return { positions: new Float32Array(positions), indices: new Uint32Array(indices) };
}

/** Two strips that meet along the y axis, bent by the angle: normals (0, 0, 1) left, turned by it right. */
function bend(angleRad: number): Surface {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  return {
    positions: new Float32Array([-1, 0, 0, 0, 0, 0, 0, 1, 0, -1, 1, 0, c, 0, -s, c, 1, -s]),
    indices: new Uint32Array([0, 1, 2, 0, 2, 3, 1, 4, 5, 1, 5, 2]),
  };
}

const sphere = lattice(60, (u, v) => {
  const azimuth = 2 * Math.PI * u;
  const polar = Math.PI * (1 - v);
  const flat = 50 * Math.sin(polar);
  return [flat * Math.cos(azimuth), flat * Math.sin(azimuth), 50 * Math.cos(polar)];
});

function wholeMaps({ positions, indices }: Surface): DepthMaps {
  const maps = new DepthMaps(positions, indices);
  while (!maps.isComplete) finish(maps.addAxis());
  return maps;
}

/** Runs sliced work to its end. */
function finish(work: Generator<void>): void {
  while (!work.next().done);
}

function sampleAll(maps: DepthMaps, positions: Float32Array, normals: Float32Array): Int8Array {
  const out = new Int8Array((4 * positions.length) / 3);
  maps.sample(positions, normals, out, 0, positions.length / 3);
  return out;
}

describe('creaseNormals', () => {
  test('a gentle bend keeps one rounded vertex, a sharp one is split', () => {
    const gentle = creaseNormals(bend(0.5).positions, bend(0.5).indices);
    expect(gentle.positions.length / 3).toBe(6);
    // The middle vertex of equal facets on both sides leans halfway, but for the triangles' unequal shares.
    const middle = gentle.indices[1];
    const lean = Math.atan2(gentle.normals[3 * middle], gentle.normals[3 * middle + 2]);
    expect(lean).toBeGreaterThan(0.1);
    expect(lean).toBeLessThan(0.4);

    const sharp = creaseNormals(bend(1.2).positions, bend(1.2).indices);
    expect(sharp.positions.length / 3).toBe(8);
    for (let t = 0; t < 4; t++) {
      const turned = t < 2 ? 0 : 1.2;
      for (let k = 0; k < 3; k++) {
        const v = sharp.indices[3 * t + k];
        expect(sharp.normals[3 * v]).toBeCloseTo(Math.sin(turned), 5);
        expect(sharp.normals[3 * v + 2]).toBeCloseTo(Math.cos(turned), 5);
      }
    }
  });

  test('keeps every triangle where it was, in order', () => {
    const { positions, indices } = sphere;
    const made = creaseNormals(positions, indices);
    expect(made.indices).toHaveLength(indices.length);
    let moved = 0;
    for (let k = 0; k < indices.length; k++) {
      for (let c = 0; c < 3; c++) {
        if (made.positions[3 * made.indices[k] + c] !== positions[3 * indices[k] + c]) moved++;
      }
    }
    expect(moved).toBe(0);
  });

  test('on a sphere the normals are radial to within the facets', () => {
    const { positions, normals } = creaseNormals(sphere.positions, sphere.indices);
    for (let i = 0; i < positions.length; i += 3) {
      const z = positions[i + 2];
      // The poles of the lattice have facets without area; they are looked at apart.
      if (Math.abs(z) > 48) continue;
      const cosine =
        (positions[i] * normals[i] + positions[i + 1] * normals[i + 1] + z * normals[i + 2]) / 50;
      // Facets span 6 degrees, so their mean is off by less than half of that, even at the seam.
      expect(cosine).toBeGreaterThan(Math.cos((3.1 * Math.PI) / 180));
    }
  });

  test('a facet without area gets a unit normal all the same', () => {
    const { normals } = creaseNormals(
      new Float32Array([0, 0, 0, 1, 0, 0, 2, 0, 0]),
      new Uint32Array([0, 1, 2]),
    );
    for (let i = 0; i < normals.length; i += 3) {
      expect(Math.hypot(normals[i], normals[i + 1], normals[i + 2])).toBeCloseTo(1, 6);
    }
  });
});

describe('DepthMaps', () => {
  test('a sphere is open everywhere, in the direction of its normal', () => {
    const shaded = creaseNormals(sphere.positions, sphere.indices);
    const aperture = sampleAll(wholeMaps(sphere), shaded.positions, shaded.normals);
    for (let i = 0; i < aperture.length / 4; i++) {
      // Exactly 1 for a convex body; the maps' cells (1/112 of the radius) take off a little at grazing directions.
      expect(aperture[4 * i + 3] / 127).toBeGreaterThan(0.93);
      const along =
        (aperture[4 * i] * shaded.normals[3 * i] +
          aperture[4 * i + 1] * shaded.normals[3 * i + 1] +
          aperture[4 * i + 2] * shaded.normals[3 * i + 2]) /
        127;
      expect(along).toBeGreaterThan(0.95);
    }
  });

  // The cosine-weighted open share of a floor that meets an endless wall is 1/2 in the corner (form factor of a
  // half-space, J. R. Howell, "A Catalog of Radiation Heat Transfer Configuration Factors", from memory) and rises away from it.
  test('the floor of a right-angled corner is half open by the wall, and leans away from it', () => {
    const floor = lattice(40, (u, v) => [100 * u, 400 * v - 200, 0]);
    const wall = lattice(40, (u, v) => [0, 400 * u - 200, 400 * v]);
    const corner: Surface = {
      positions: new Float32Array([...floor.positions, ...wall.positions]),
      indices: new Uint32Array([
        ...floor.indices,
        ...[...wall.indices].map((v) => v + floor.positions.length / 3),
      ]),
    };
    const places = new Float32Array([6, 0, 0, 95, 0, 0]);
    const normals = new Float32Array([0, 0, 1, 0, 0, 1]);
    const aperture = sampleAll(wholeMaps(corner), places, normals);
    // A tenth: 28 directions sample the half-sphere, and the wall ends at 400 mm.
    expect(aperture[3] / 127).toBeGreaterThan(0.4);
    expect(aperture[3] / 127).toBeLessThan(0.6);
    expect(aperture[0]).toBeGreaterThan(40);
    expect(aperture[7]).toBeGreaterThan(aperture[3]);
  });
});

describe('smoothAperture', () => {
  test('leaves an even field as it is and spreads a spot over its neighbours', () => {
    const { indices } = lattice(4, (u, v) => [u, v, 0]);
    const even = new Int8Array(25 * 4).fill(90);
    finish(smoothAperture(even, indices, 3));
    expect([...even]).toEqual(new Array(100).fill(90));
    const spot = new Int8Array(25 * 4);
    spot[4 * 12 + 3] = 120;
    finish(smoothAperture(spot, indices, 1));
    expect(spot[4 * 12 + 3]).toBeLessThan(60);
    expect(spot[4 * 11 + 3]).toBeGreaterThan(0);
    expect(spot[4 * 0 + 3]).toBeGreaterThanOrEqual(0);
    expect(spot[4 * 4 + 3]).toBe(0);
  });
});

describe('computeBoardShadow', () => {
  const rectangle = { minX: -100, minY: -100, maxX: 100, maxY: 100 };
  const cell = (shade: Uint8Array, x: number, y: number): number =>
    shade[Math.floor((y + 100) / 2) * 100 + Math.floor((x + 100) / 2)];

  test('is dark under what stands low, light under what hangs high, and white beside', () => {
    const low = lattice(2, (u, v) => [60 * u - 80, 60 * v - 30, 0]);
    const high = lattice(2, (u, v) => [60 * u + 20, 60 * v - 30, 100]);
    const both: Surface = {
      positions: new Float32Array([...low.positions, ...high.positions]),
      indices: new Uint32Array([...low.indices, ...[...high.indices].map((v) => v + 9)]),
    };
    const shade = ended(computeBoardShadow(both.positions, both.indices, rectangle, 100));
    expect(shade).toHaveLength(100 * 100);
    expect(cell(shade, -50, 0)).toBeGreaterThan(240);
    expect(cell(shade, 50, 0)).toBeLessThan(5);
    expect(cell(shade, 0, 90)).toBe(0);
  });
});
