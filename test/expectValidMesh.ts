import { expect } from 'vitest';
import type { PreparedScan } from '../src/core/mesh/PreparedScan.ts';
import type { TriMesh } from '../src/core/mesh/TriMesh.ts';

/** Rounding of a sum over many triangles, share of the box's volume. */
const VOLUME_ROUNDING_SHARE = 1e-9;

/**
 * Fails unless the mesh is a surface that the rest may rely on: finite, indices in range, no vertex unused, no face
 * without area, no edge of more than two faces or of two that run it in the same direction, one fan of faces a vertex.
 *
 * Everything is counted anew here with plain maps; nothing of the code under test is called.
 */
export function expectValidMesh(mesh: TriMesh): void {
  const { positions, indices } = mesh;
  const vertCount = positions.length / 3;
  expect(positions.length % 3).toBe(0);
  expect(indices.length % 3).toBe(0);
  expect(indices.length, 'triangles').toBeGreaterThan(0);
  expect(
    positions.findIndex((x) => !Number.isFinite(x)),
    'first coordinate that is not finite',
  ).toBe(-1);
  expect(
    indices.findIndex((v) => v >= vertCount),
    'first index out of range',
  ).toBe(-1);
  expect(new Set(indices).size, 'vertices in use').toBe(vertCount);
  let flat = 0;
  for (let t = 0; t < indices.length / 3; t++) if (!(areaOf(mesh, t) > 0)) flat++;
  expect(flat, 'faces without area').toBe(0);
  const directed = directedEdges(indices);
  expect(directed.size, 'directed edges, each of one face').toBe(indices.length);
  expect(countFans(indices, directed), 'fans of faces').toBe(vertCount);
}

/**
 * Fails unless the prepared scan keeps what PreparedScan promises: a valid mesh with true twins, nothing below the board,
 * the rim of S exactly on it, the faces that lie on it left out of S, and the volume that it encloses with the board.
 */
export function expectValidScan(scan: PreparedScan): void {
  const { mesh, twins, isSurface } = scan;
  const { positions, indices } = mesh;
  expectValidMesh(mesh);
  expect(twins.length).toBe(indices.length);
  expect(isSurface.length).toBe(indices.length / 3);
  const directed = directedEdges(indices);
  let wrongTwins = 0;
  let opensOffBoard = 0;
  let rimOffBoard = 0;
  for (let e = 0; e < indices.length; e++) {
    const a = indices[e];
    const b = indices[after(e)];
    const opposite = directed.get(keyOf(b, a)) ?? -1;
    if (twins[e] !== opposite) wrongTwins++;
    const isOnBoard = positions[3 * a + 2] === 0 && positions[3 * b + 2] === 0;
    if (opposite < 0 && !isOnBoard) opensOffBoard++;
    if (opposite >= 0 && isSurface[(e / 3) | 0] !== isSurface[(opposite / 3) | 0] && !isOnBoard)
      rimOffBoard++;
  }
  expect(wrongTwins, 'twins that are not the opposite half-edge').toBe(0);
  expect(rimOffBoard, 'edges between S and the base that are not on the board').toBe(0);
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 2; i < positions.length; i += 3) {
    lowest = Math.min(lowest, positions[i]);
    highest = Math.max(highest, positions[i]);
  }
  expect(scan.heightMm).toBe(highest);
  let misplaced = 0;
  for (let t = 0; t < isSurface.length; t++) {
    const isOnBoard = [0, 1, 2].every((k) => positions[3 * indices[3 * t + k] + 2] === 0);
    const isExpected = scan.standsOnBoard && isOnBoard ? 0 : 1;
    if (isSurface[t] !== isExpected) misplaced++;
  }
  expect(misplaced, 'faces on the board counted to S, or off it left out').toBe(0);
  if (scan.standsOnBoard) expect(lowest, 'lowest point').toBe(0);
  else expect(lowest).toBeGreaterThanOrEqual(0);
  if (scan.volumeMm3 === null) {
    expect(opensOffBoard, 'open edges off the board of a scan said to be open').toBeGreaterThan(0);
  } else {
    expect(opensOffBoard, 'open edges off the board of a scan said to be closed').toBe(0);
    const boxVolume = boxVolumeOf(positions);
    expect(Math.abs(scan.volumeMm3 - volumeAlongX(mesh))).toBeLessThanOrEqual(
      VOLUME_ROUNDING_SHARE * boxVolume,
    );
    expect(scan.volumeMm3).toBeGreaterThan(0);
  }
}

/**
 * The enclosed volume by the divergence theorem with the field (x, 0, 0): another route than the code's own. A lid in a
 * plane z = constant adds nothing to it, so that a rim on the board needs none.
 */
export function volumeAlongX(mesh: TriMesh): number {
  const { positions: p, indices } = mesh;
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    const twice =
      (p[b + 1] - p[a + 1]) * (p[c + 2] - p[a + 2]) - (p[b + 2] - p[a + 2]) * (p[c + 1] - p[a + 1]);
    sum += (twice * (p[a] + p[b] + p[c])) / 6;
  }
  return sum;
}

/** Area of S by Heron's formula on the sides: another route than the code's own. */
export function surfaceArea(scan: PreparedScan): number {
  let sum = 0;
  for (let t = 0; t < scan.isSurface.length; t++) if (scan.isSurface[t] === 1) sum += areaOf(scan.mesh, t);
  return sum;
}

const after = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);
/** Vertex numbers stay below 2^26 in tests, so that the key is exact. */
const keyOf = (a: number, b: number): number => a * 2 ** 26 + b;

function directedEdges(indices: Uint32Array): Map<number, number> {
  const directed = new Map<number, number>();
  for (let e = 0; e < indices.length; e++) directed.set(keyOf(indices[e], indices[after(e)]), e);
  return directed;
}

/** Fans: classes of corners of the same vertex that are joined across edges. A vertex with one fan is manifold. */
function countFans(indices: Uint32Array, directed: ReadonlyMap<number, number>): number {
  const root = Int32Array.from({ length: indices.length }, (_, c) => c);
  const find = (c: number): number => {
    let r = c;
    while (root[r] !== r) {
      root[r] = root[root[r]];
      r = root[r];
    }
    return r;
  };
  for (let e = 0; e < indices.length; e++) {
    const o = directed.get(keyOf(indices[after(e)], indices[e]));
    if (o === undefined) continue;
    // Half-edge e starts at the corner where its opposite ends.
    root[find(e)] = find(after(o));
  }
  let fans = 0;
  for (let c = 0; c < root.length; c++) if (root[c] === c) fans++;
  return fans;
}

function areaOf(mesh: TriMesh, t: number): number {
  const { positions: p, indices } = mesh;
  const side = (k: number): number => {
    const a = 3 * indices[3 * t + k];
    const b = 3 * indices[3 * t + ((k + 1) % 3)];
    return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
  };
  // Sides sorted, brackets as they stand: W. Kahan, Miscalculating area and angles of a needle-like triangle.
  const [c, b, a] = [side(0), side(1), side(2)].sort((x, y) => x - y);
  return Math.sqrt(Math.max(0, (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c)))) / 4;
}

function boxVolumeOf(positions: Float64Array): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    min[i % 3] = Math.min(min[i % 3], positions[i]);
    max[i % 3] = Math.max(max[i % 3], positions[i]);
  }
  return (max[0] - min[0]) * (max[1] - min[1]) * (max[2] - min[2]);
}
