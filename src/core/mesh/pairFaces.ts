import type { EdgeTable } from './EdgeTable.ts';
import { nextInTri, previousInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/** Added to an angle when the two faces run their edge in the same direction: such pairs come last. */
const SAME_DIRECTION_PENALTY = 4 * Math.PI;

/**
 * For every half-edge the one across its edge, or -1, whatever the winding.
 *
 * Edges of two faces pair these. Edges of more are taken apart into sheets: a face is paired with the one that bounds the
 * same solid, that is the first one met when it is turned about the edge into its own back; the odd one out stays open.
 */
export function pairFaces(mesh: TriMesh, table: EdgeTable): Int32Array {
  const partners = new Int32Array(mesh.indices.length).fill(-1);
  for (let edge = 0; edge < table.count; edge++) {
    const a = table.first[edge];
    const b = table.next[a];
    if (b < 0) continue;
    if (table.next[b] < 0) {
      partners[a] = b;
      partners[b] = a;
    } else {
      const all: number[] = [];
      for (let e = a; e >= 0; e = table.next[e]) all.push(e);
      pairByAngle(mesh, all, partners);
    }
  }
  return partners;
}

function pairByAngle(mesh: TriMesh, halfEdges: readonly number[], partners: Int32Array): void {
  const angles = anglesAbout(mesh, halfEdges);
  const start = mesh.indices[halfEdges[0]];
  const isForward = halfEdges.map((e) => mesh.indices[e] === start);
  const turns: { i: number; j: number; turn: number }[] = [];
  for (let i = 0; i < halfEdges.length; i++) {
    for (let j = i + 1; j < halfEdges.length; j++) {
      // The back of a forward face lies at smaller angles, that of a backward one at larger.
      const down = (((angles[i] - angles[j]) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
      const turn = isForward[i] ? down : 2 * Math.PI - down;
      turns.push({ i, j, turn: isForward[i] === isForward[j] ? turn + SAME_DIRECTION_PENALTY : turn });
    }
  }
  turns.sort((p, q) => p.turn - q.turn);
  for (const { i, j } of turns) {
    const e = halfEdges[i];
    const o = halfEdges[j];
    if (partners[e] >= 0 || partners[o] >= 0) continue;
    partners[e] = o;
    partners[o] = e;
  }
}

/** Directions of the faces about their common edge, radians, counter-clockwise about the first half-edge's direction. */
function anglesAbout(mesh: TriMesh, halfEdges: readonly number[]): number[] {
  const { positions: p, indices } = mesh;
  const at = (v: number): number[] => [p[3 * v], p[3 * v + 1], p[3 * v + 2]];
  const minus = (a: number[], b: number[]): number[] => a.map((x, k) => x - b[k]);
  const dot = (a: number[], b: number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (a: number[], b: number[]): number[] => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const origin = at(indices[halfEdges[0]]);
  const along = minus(at(indices[nextInTri(halfEdges[0])]), origin);
  const length2 = dot(along, along);
  const square = (e: number): number[] => {
    const way = minus(at(indices[previousInTri(e)]), origin);
    const share = dot(way, along) / length2;
    return way.map((x, k) => x - share * along[k]);
  };
  const u = square(halfEdges[0]);
  const v = cross(along, u).map((x) => x / Math.sqrt(length2));
  return halfEdges.map((e) => {
    const w = square(e);
    return Math.atan2(dot(w, v), dot(w, u));
  });
}
