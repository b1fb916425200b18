import { nextInTri, previousInTri } from './halfEdges.ts';
import { loopPoints, measureLoop, type OpenLoop } from './measureLoop.ts';
import { splitPinches } from './splitPinches.ts';
import type { TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';
import { triangulateLoop } from './triangulateLoop.ts';
import { writeNormal } from './writeNormal.ts';

export interface Filled {
  readonly mesh: TriMesh;
  /** Each with the faces laid into it as loose triangles, n x 9. */
  readonly filledLoops: readonly { readonly points: Float64Array; readonly tris: Float64Array }[];
  readonly areaMm2: number;
  /** Open loops that are left and do not lie on the board. */
  readonly left: readonly OpenLoop[];
}

/**
 * The mesh with its small open loops filled. Never filled: a loop that touches the board (it is the base, or joins it),
 * or one longer than `fillToMm`. Fills are triangulated without new vertices (triangulateLoop), or as a fan about the
 * loop's middle where that cannot be done; the new triangles are the last ones. The mesh must be manifold in its vertices.
 * With `splitsPinches`, holes that touch in a point are filled each on its own and their vertices joined (splitPinches);
 * the caller checks that the answer is still manifold.
 */
export function fillHoles(
  mesh: TriMesh,
  twins: Int32Array,
  fillToMm: number,
  standsOnBoard: boolean,
  splitsPinches: boolean,
): Filled {
  const { positions: p } = mesh;
  const faces: number[] = [];
  const added: number[] = [];
  const filledLoops: { points: Float64Array; tris: Float64Array }[] = [];
  const left: OpenLoop[] = [];
  const toFill: OpenLoop[] = [];
  const joins: (readonly [number, number])[] = [];
  for (const halfEdges of traceLoops(twins)) {
    const loop = measureLoop(mesh, halfEdges);
    if (standsOnBoard && loop.min[2] === 0) {
      if (loop.max[2] > 0) left.push(loop);
      continue;
    }
    const split = splitsPinches ? splitPinches(mesh, halfEdges, fillToMm) : null;
    for (const hole of split?.holes ?? []) toFill.push(measureLoop(mesh, hole));
    joins.push(...(split?.joins ?? []));
    const rest = split && split.holes.length > 0 ? measureLoop(mesh, split.rest) : loop;
    // Two edges that remain lie on each other and are joined with the vertices at their ends.
    if (rest !== loop && rest.halfEdges.length < 3) continue;
    if (rest.perimeter > fillToMm || rest.halfEdges.length < 3) left.push(rest);
    else toFill.push(rest);
  }
  const indices = joinVerts(mesh, joins);
  const joined: TriMesh = { positions: p, indices };
  const edges = edgesAmong(joined, toFill);
  const vertCount = p.length / 3;
  let areaMm2 = 0;
  for (const loop of toFill) {
    const made = fillLoop(joined, loop, vertCount + added.length / 3, edges);
    filledLoops.push({ points: loopPoints(mesh, loop.halfEdges), tris: trisOf(p, vertCount, added, made) });
    faces.push(...made.faces);
    added.push(...made.added);
  }
  if (faces.length === 0) return { mesh, filledLoops, areaMm2, left };
  const positions = new Float64Array(p.length + added.length);
  positions.set(p);
  positions.set(added, p.length);
  const all = new Uint32Array(indices.length + faces.length);
  all.set(indices);
  all.set(faces, indices.length);
  const scratch = new Float64Array(3);
  for (let i = 0; i < faces.length; i += 3) {
    areaMm2 += writeNormal(positions, faces[i], faces[i + 1], faces[i + 2], scratch) / 2;
  }
  return { mesh: { positions, indices: all }, filledLoops, areaMm2, left };
}

/** The faces of a fill as loose triangles; a vertex of its own comes after those added before. */
function trisOf(
  p: Float64Array,
  vertCount: number,
  addedBefore: readonly number[],
  made: { readonly faces: readonly number[]; readonly added: readonly number[] },
): Float64Array {
  const out = new Float64Array(3 * made.faces.length);
  const newVert = vertCount + addedBefore.length / 3;
  made.faces.forEach((v, i) => {
    for (let k = 0; k < 3; k++) out[3 * i + k] = v === newVert ? made.added[k] : p[3 * v + k];
  });
  return out;
}

/** The triangles with the first vertex of each pair replaced by the second, chains followed to their end. */
function joinVerts(mesh: TriMesh, joins: readonly (readonly [number, number])[]): Uint32Array {
  if (joins.length === 0) return mesh.indices;
  const to = Uint32Array.from({ length: mesh.positions.length / 3 }, (_, v) => v);
  const endOf = (start: number): number => {
    let v = start;
    while (to[v] !== v) v = to[v];
    return v;
  };
  for (const [from, kept] of joins) {
    const a = endOf(from);
    const b = endOf(kept);
    if (a !== b) to[a] = b;
  }
  return mesh.indices.map(endOf);
}

interface Edges {
  has(v: number, w: number): boolean;
  add(v: number, w: number): void;
}

/** All edges of the mesh both of whose ends lie on one of the loops. */
function edgesAmong(mesh: TriMesh, loops: readonly OpenLoop[]): Edges {
  const vertCount = mesh.positions.length / 3;
  const isOn = new Uint8Array(vertCount);
  for (const loop of loops) for (const e of loop.halfEdges) isOn[mesh.indices[e]] = 1;
  const keys = new Set<number>();
  const keyOf = (v: number, w: number): number => Math.min(v, w) * vertCount + Math.max(v, w);
  for (let e = 0; loops.length > 0 && e < mesh.indices.length; e++) {
    const v = mesh.indices[e];
    if (isOn[v] === 0) continue;
    const w = mesh.indices[nextInTri(e)];
    if (isOn[w] !== 0) keys.add(keyOf(v, w));
  }
  return { has: (v, w) => keys.has(keyOf(v, w)), add: (v, w) => keys.add(keyOf(v, w)) };
}

function fillLoop(
  mesh: TriMesh,
  loop: OpenLoop,
  newVert: number,
  edges: Edges,
): { faces: number[]; added: number[] } {
  const { indices } = mesh;
  // A fill runs against the border, so the loop is walked backwards: edge i goes from verts[i] to verts[i + 1].
  const border = Array.from(loop.halfEdges).reverse();
  const verts = border.map((e) => indices[nextInTri(e)]);
  const n = verts.length;
  const points = new Float64Array(3 * n);
  const outward = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < 3; k++) points[3 * i + k] = mesh.positions[3 * verts[i] + k];
    outward.set(unitNormal(mesh, border[i]), 3 * i);
  }
  const found = triangulateLoop(points, outward, (i, j) => edges.has(verts[i], verts[j]));
  if (found) {
    const faces = found.map((i) => verts[i]);
    for (let i = 0; i < faces.length; i += 3) {
      edges.add(faces[i], faces[i + 1]);
      edges.add(faces[i + 1], faces[i + 2]);
      edges.add(faces[i + 2], faces[i]);
    }
    return { faces, added: [] };
  }
  const faces: number[] = [];
  for (let i = 0; i < n; i++) faces.push(verts[i], verts[(i + 1) % n], newVert);
  return { faces, added: [...loop.centre] };
}

function unitNormal(mesh: TriMesh, e: number): Float64Array {
  const normal = new Float64Array(3);
  const { positions, indices } = mesh;
  const twice = writeNormal(positions, indices[e], indices[nextInTri(e)], indices[previousInTri(e)], normal);
  return twice > 0 ? normal.map((x) => x / twice) : normal;
}
