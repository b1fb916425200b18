import { EdgeTable } from './EdgeTable.ts';
import { nextInTri, previousInTri } from './halfEdges.ts';
import { keepTris } from './keepTris.ts';
import type { TriMesh } from './TriMesh.ts';

/** A triangle whose height is below this share of its longest side has no direction in Float64 arithmetic. */
export const LEAST_HEIGHT_SHARE = 1e-10;
/** Flipping can hand a flat triangle on to a neighbour; a few rounds settle rows of them. */
const FLIP_ROUNDS = 4;

export interface Degenerate {
  readonly mesh: TriMesh;
  /** Faces with a coordinate that is no finite number. */
  readonly notFinite: number;
  /** Faces without area that went. */
  readonly flat: number;
  /** A corner of each face that had no area as it was given, n x 3. */
  readonly flatAt: Float64Array;
}

/**
 * The mesh without faces that have no area or no place. Two corners on one vertex: the face goes and its neighbours
 * meet. Three corners on a line: its longest edge is flipped with the neighbour's, which keeps a closed surface closed;
 * where that cannot be done the face goes. O(n).
 */
export function dropDegenerate(input: TriMesh): Degenerate {
  const { positions } = input;
  const count = input.indices.length / 3;
  const isKept = new Uint8Array(count).fill(1);
  let notFinite = 0;
  let flat = 0;
  let isAnyThin = false;
  const flatAt: number[] = [];
  for (let t = 0; t < count; t++) {
    const state = classify(positions, input.indices, t);
    if (state === SOUND) continue;
    if (state !== NOT_FINITE) {
      const v = 3 * input.indices[3 * t];
      flatAt.push(positions[v], positions[v + 1], positions[v + 2]);
    }
    if (state === THIN) {
      isAnyThin = true;
      continue;
    }
    isKept[t] = 0;
    if (state === NOT_FINITE) notFinite++;
    else flat++;
  }
  let indices = keepTris(input.indices, isKept);
  for (let round = 0; isAnyThin && round < FLIP_ROUNDS; round++) {
    const flipped = flipThin(positions, indices);
    flat += flipped.count;
    indices = flipped.indices;
    isAnyThin = flipped.count > 0;
  }
  if (isAnyThin || indices !== input.indices) {
    const isSound = new Uint8Array(indices.length / 3);
    for (let t = 0; t < isSound.length; t++) isSound[t] = classify(positions, indices, t) === SOUND ? 1 : 0;
    const left = keepTris(indices, isSound);
    flat += (indices.length - left.length) / 3;
    indices = left;
  }
  return {
    mesh: indices === input.indices ? input : { positions, indices },
    notFinite,
    flat,
    flatAt: Float64Array.from(flatAt),
  };
}

const SOUND = 0;
const NOT_FINITE = 1;
const REPEATED = 2;
const THIN = 3;

function classify(p: Float64Array, indices: Uint32Array, t: number): number {
  const i = indices[3 * t];
  const j = indices[3 * t + 1];
  const k = indices[3 * t + 2];
  if (i === j || j === k || k === i) return REPEATED;
  const a = 3 * i;
  const b = 3 * j;
  const c = 3 * k;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const wx = vx - ux;
  const wy = vy - uy;
  const wz = vz - uz;
  const longest2 = Math.max(
    ux * ux + uy * uy + uz * uz,
    vx * vx + vy * vy + vz * vz,
    wx * wx + wy * wy + wz * wz,
  );
  if (!(longest2 < Infinity)) return NOT_FINITE;
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
  return twice > LEAST_HEIGHT_SHARE * longest2 ? SOUND : THIN;
}

/** Flips the longest edge of every thin triangle that has one plain neighbour there, each neighbour once a round. */
function flipThin(positions: Float64Array, indices: Uint32Array): { indices: Uint32Array; count: number } {
  const out = indices.slice();
  const table = new EdgeTable(indices);
  const isTouched = new Uint8Array(indices.length / 3);
  let count = 0;
  for (let edge = 0; edge < table.count; edge++) {
    const e = table.first[edge];
    const o = table.next[e];
    if (o < 0 || table.next[o] >= 0) continue;
    for (const [mine, theirs] of [
      [e, o],
      [o, e],
    ]) {
      const t = Math.floor(mine / 3);
      const s = Math.floor(theirs / 3);
      if (isTouched[t] || isTouched[s] || classify(positions, out, t) !== THIN) continue;
      if (!isLongest(positions, out, mine)) continue;
      const a = out[mine];
      const b = out[nextInTri(mine)];
      const c = out[previousInTri(mine)];
      const d = out[previousInTri(theirs)];
      if (c === d) continue;
      // The thin face lies in the edge a b, so the neighbour a b d is covered by its two parts on either side of c.
      const isOpposite = out[theirs] === b;
      out.set(isOpposite ? [c, a, d] : [c, d, a], 3 * t);
      out.set(isOpposite ? [c, d, b] : [c, b, d], 3 * s);
      isTouched[t] = 1;
      isTouched[s] = 1;
      count++;
    }
  }
  return { indices: out, count };
}

function isLongest(p: Float64Array, indices: Uint32Array, e: number): boolean {
  const length = (h: number): number => {
    const a = 3 * indices[h];
    const b = 3 * indices[nextInTri(h)];
    return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
  };
  const own = length(e);
  return own >= length(nextInTri(e)) && own >= length(previousInTri(e));
}
