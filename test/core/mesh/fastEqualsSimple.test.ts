import { describe, expect, it } from 'vitest';
import { boxOfCounted } from '../../../src/core/mesh/boxOfCounted.ts';
import { buildTwins } from '../../../src/core/mesh/buildTwins.ts';
import { cleanSurface } from '../../../src/core/mesh/cleanSurface.ts';
import { describeFile } from '../../../src/core/mesh/describeFile.ts';
import { EdgeTable } from '../../../src/core/mesh/EdgeTable.ts';
import { labelParts } from '../../../src/core/mesh/labelParts.ts';
import { NoteBook } from '../../../src/core/mesh/NoteBook.ts';
import { orientFaces, orientManifold } from '../../../src/core/mesh/orientFaces.ts';
import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';
import { weldExact } from '../../../src/core/mesh/weldExact.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { box, joined, moved, octasphere, openHalfSphere } from '../../fixtures/shapes.ts';

/** The steps of putting a scan right as anyone would write them first, beside those that a million triangles are run through. */

/** Triangles on few vertices by chance: edges of many faces, repeated corners, places taken twice, some that are no numbers. */
function tangle(seed: number): TriMesh {
  const random = seededRandom(seed);
  const vertCount = 4 + Math.floor(random() * 30);
  const positions = Float64Array.from({ length: 3 * vertCount }, () => Math.floor(random() * 3) - 1);
  if (seed % 3 === 0) positions[Math.floor(random() * positions.length)] = Number.NaN;
  if (seed % 4 === 0) positions[1] = -0;
  const indices = Uint32Array.from({ length: 3 * Math.floor(random() * 60 + 1) }, () =>
    Math.floor(random() * vertCount),
  );
  return { positions, indices };
}

const TANGLES = Array.from({ length: 150 }, (_, n) => tangle(n + 1));

const edgesSimply = (indices: Uint32Array): number[][] => {
  const edges = new Map<string, number[]>();
  indices.forEach((from, e) => {
    const to = indices[e % 3 === 2 ? e - 2 : e + 1];
    const key = `${Math.min(from, to)} ${Math.max(from, to)}`;
    edges.set(key, [...(edges.get(key) ?? []), e]);
  });
  return [...edges.values()];
};

/** Spreads from each triangle that has no number yet, in order. */
function partsSimply(twins: Int32Array): number[] {
  const parts = new Array<number>(twins.length / 3).fill(-1);
  let next = 0;
  for (let seed = 0; seed < parts.length; seed++) {
    if (parts[seed] >= 0) continue;
    const open = [seed];
    for (let t = open.pop(); t !== undefined; t = open.pop()) {
      if (parts[t] >= 0) continue;
      parts[t] = next;
      for (let e = 3 * t; e < 3 * t + 3; e++) if (twins[e] >= 0) open.push(Math.floor(twins[e] / 3));
    }
    next++;
  }
  return parts;
}

it('edges as a map finds them, in the order of their lower vertex (seeds 1 to 150)', () => {
  for (const { indices } of TANGLES) {
    const table = new EdgeTable(indices);
    const found = Array.from(table.first, (first) => {
      const edge: number[] = [];
      for (let e = first; e >= 0; e = table.next[e]) edge.push(e);
      return edge;
    });
    const lowOf = ([e]: number[]): number => Math.min(indices[e], indices[e % 3 === 2 ? e - 2 : e + 1]);
    expect(found.map(lowOf)).toEqual(found.map(lowOf).sort((a, b) => a - b));
    const byFirst = (a: number[], b: number[]): number => a[0] - b[0];
    expect(found.sort(byFirst)).toEqual(edgesSimply(indices).sort(byFirst));
  }
});

it('parts as a flood finds them, numbered by their lowest triangle (seeds 1 to 150)', () => {
  const several = joined(joined(octasphere(9, 3), moved(box(2, 2, 2), [30, 0, 0])), openHalfSphere(5, 2));
  for (const { indices } of [...TANGLES, several]) {
    const { twins } = buildTwins(indices);
    const simple = partsSimply(twins);
    const { parts, partCount } = labelParts(twins);
    expect([...parts]).toEqual(simple);
    expect(partCount).toBe(Math.max(...simple) + 1);
  }
});

it('vertices in one place as a map finds them (seeds 1 to 150)', () => {
  for (const { positions, indices } of TANGLES) {
    const placeOf = (v: number): string => {
      const xyz = [...positions.subarray(3 * v, 3 * v + 3)];
      // "NaN" would be one place for all.
      return xyz.some(Number.isNaN) ? `no place ${v}` : xyz.join(' ');
    };
    const { mesh, welded } = weldExact({ positions, indices });
    const all = Array.from({ length: positions.length / 3 }, (_, v) => placeOf(v));
    expect(welded).toBe(all.length - new Set(all).size);
    const firstAt = (v: number): number => all.indexOf(all[v]);
    const coordinates = (from: TriMesh, v: number): number[] => [
      ...from.positions.subarray(3 * v, 3 * v + 3),
    ];
    indices.forEach((v, i) => {
      expect(coordinates(mesh, mesh.indices[i])).toEqual(
        coordinates({ positions, indices }, welded > 0 ? firstAt(v) : v),
      );
      expect(mesh.indices[i] === mesh.indices[0]).toBe(all[v] === all[indices[0]]);
    });
  }
});

it('the box of what counts, without a vertex that no counted triangle has', () => {
  const mesh = joined(box(2, 4, 6), moved(box(1, 1, 1), [50, 0, 0]));
  const isCounted = new Uint8Array(24).fill(1, 0, 12);
  expect(boxOfCounted(mesh, isCounted)).toEqual(boxOfCounted(box(2, 4, 6), new Uint8Array(12).fill(1)));
  expect(boxOfCounted(mesh, new Uint8Array(24)).min).toEqual([Infinity, Infinity, Infinity]);
});

describe('a surface that needs nothing is left as the whole way round leaves it', () => {
  const flipped = (mesh: TriMesh): TriMesh => ({
    ...mesh,
    indices: mesh.indices.map((_, i) => mesh.indices[i % 3 === 0 ? i : i % 3 === 1 ? i + 1 : i - 1]),
  });
  const ball = octasphere(20, 6);
  // Two boxes that share one vertex.
  const touching = weldExact(joined(box(2, 2, 2), moved(box(2, 2, 2), [2, 2, 2]))).mesh;
  const pillow: TriMesh = {
    positions: Float64Array.from([...ball.positions, 90, 0, 0, 91, 0, 0, 90, 1, 0]),
    indices: Uint32Array.from([
      ...ball.indices,
      ...[0, 1, 2, 0, 2, 1].map((v) => ball.positions.length / 3 + v),
    ]),
  };

  it.each([
    ['ball', ball, true],
    ['two balls apart', joined(ball, moved(octasphere(3, 2), [50, 0, 0])), true],
    ['half ball, open', openHalfSphere(20, 6), true],
    ['ball inside out', flipped(ball), false],
    ['boxes that touch in a vertex', touching, false],
  ])('%s', (_, mesh, isSeenAtOnce) => {
    const file = describeFile(mesh);
    expect(file.nonManifoldEdges).toBe(0);
    const atOnce = orientManifold(mesh, file.twins, file.components === 1);
    expect(atOnce !== null).toBe(isSeenAtOnce);
    if (atOnce !== null) expect(atOnce).toEqual(orientFaces(mesh, file.table));
  });

  it('a face and its own back, which share every edge with each other alone, are still found', () => {
    const notes = new NoteBook();
    cleanSurface(pillow, describeFile(pillow), notes);
    expect(notes.repairs.map(({ code, count }) => [code, count])).toContainEqual([
      'duplicate-faces-dropped',
      1,
    ]);
  });
});
