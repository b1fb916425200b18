import type { KeptSide } from './cutByPlane.ts';
import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';

/** A closed line in the plane of a cut: the body lies to its left, seen from the side that went. */
export interface CutOutline {
  /** Vertices of the mesh in order. */
  readonly verts: readonly number[];
  /** Stretches that run straight from one open edge of the scan to another, where the cut itself has no edge. */
  readonly straight: number;
}

/** A stretch of an outline between two of its vertices, both told. */
interface Stretch {
  readonly verts: readonly number[];
  readonly isStraight: boolean;
}

/** A normal that rises no more than this, length 1, is level: only rounding. */
const UPRIGHT = 1e-9;

/**
 * The outlines that a cut by a plane left open, all of them closed in the plane.
 *
 * Where the cut ran over an edge that was open before, its outline breaks off there and goes on at the far end of what is
 * left of that edge. Both ends are joined straight; where that edge comes down to the board they are joined along the board,
 * on which stretches that run to and fro over each other cancel. An upright cut goes straight down there from an end
 * that hangs above the board, as a table's edge does. O(n).
 *
 * @param mesh what the cut left; `twins` its own. `snapMm`: vertices this near to the plane lie in it.
 * @returns the outlines, and the mesh with the vertices on the board that some of them need.
 */
export function traceCut(
  mesh: TriMesh,
  twins: Int32Array,
  { normal, offset }: KeptSide,
  snapMm: number,
  standsOnBoard: boolean,
): { outlines: CutOutline[]; mesh: TriMesh } {
  const { positions: p, indices } = mesh;
  const isUpright = Math.abs(normal[2]) <= UPRIGHT;
  const isIn = (v: number): boolean =>
    Math.abs(normal[0] * p[3 * v] + normal[1] * p[3 * v + 1] + normal[2] * p[3 * v + 2] - offset) <= snapMm;
  const isOnBoard = (v: number): boolean => standsOnBoard && p[3 * v + 2] === 0;
  const outlines: CutOutline[] = [];
  const stretches: Stretch[] = [];
  const boardJoins: (readonly [number, number])[] = [];
  const feet: number[] = [];
  const footOf = (v: number): number => {
    if (isOnBoard(v)) return v;
    feet.push(p[3 * v], p[3 * v + 1], 0);
    return (p.length + feet.length) / 3 - 1;
  };
  for (const halfEdges of traceLoops(twins)) {
    const verts = Array.from(halfEdges, (e) => indices[e]);
    const n = verts.length;
    const isCut = Array.from(halfEdges, (e) => {
      const a = indices[e];
      const b = indices[nextInTri(e)];
      return isIn(a) && isIn(b) && !(isOnBoard(a) && isOnBoard(b));
    });
    const gap = isCut.indexOf(false);
    if (gap < 0) {
      outlines.push({ verts: verts.reverse(), straight: 0 });
      continue;
    }
    // Runs of cut edges, each against the border, as the cap that goes there runs.
    const runs: number[][] = [];
    /** Whether what is left of the old edge after a run comes down to the board; before the first run, in place 0. */
    const comesDown: boolean[] = [false];
    for (let i = 1; i <= n; i++) {
      const at = (gap + i) % n;
      if (!isCut[at]) {
        comesDown[runs.length] ||= isOnBoard(verts[at]) || isOnBoard(verts[(at + 1) % n]);
        continue;
      }
      const last = runs[runs.length - 1];
      if (i > 1 && isCut[(at + n - 1) % n]) last.unshift(verts[(at + 1) % n]);
      else comesDown[runs.push([verts[(at + 1) % n], verts[at]])] = false;
    }
    comesDown[runs.length] ||= comesDown[0];
    runs.forEach((run, r) => {
      stretches.push({ verts: run, isStraight: false });
      const next = runs[(r + 1) % runs.length];
      const from = next[next.length - 1];
      const to = run[0];
      if (from === to) return;
      const areOn = isOnBoard(from) && isOnBoard(to);
      if (!areOn && !(isUpright && comesDown[r + 1])) {
        stretches.push({ verts: [from, to], isStraight: true });
        return;
      }
      const down = footOf(from);
      const up = footOf(to);
      if (down !== from) stretches.push({ verts: [from, down], isStraight: true });
      if (up !== to) stretches.push({ verts: [up, to], isStraight: true });
      boardJoins.push([down, up]);
    });
  }
  const positions = new Float64Array(p.length + feet.length);
  positions.set(p);
  positions.set(feet, p.length);
  for (const verts of sumAlongBoard(positions, normal, boardJoins))
    stretches.push({ verts, isStraight: false });
  return { outlines: [...outlines, ...stringTogether(stretches)], mesh: { positions, indices } };
}

/** Joins along the straight line in which the plane meets the board, as steps from each end to the next that do not overlap. */
function sumAlongBoard(
  p: Float64Array,
  normal: KeptSide['normal'],
  joins: readonly (readonly [number, number])[],
): [number, number][] {
  const place = (v: number): number => normal[0] * p[3 * v + 1] - normal[1] * p[3 * v];
  const change = new Map<number, number>();
  for (const [from, to] of joins) {
    change.set(from, (change.get(from) ?? 0) + 1);
    change.set(to, (change.get(to) ?? 0) - 1);
  }
  const ends = [...change.keys()].sort((a, b) => place(a) - place(b));
  const steps: [number, number][] = [];
  let over = 0;
  for (let i = 0; i + 1 < ends.length; i++) {
    over += change.get(ends[i]) ?? 0;
    for (let k = 0; k < Math.abs(over); k++) {
      steps.push(over > 0 ? [ends[i], ends[i + 1]] : [ends[i + 1], ends[i]]);
    }
  }
  return steps;
}

/** Closed lines made of all stretches; as many begin at a vertex as end there. */
function stringTogether(stretches: readonly Stretch[]): CutOutline[] {
  const from = new Map<number, Stretch[]>();
  for (const stretch of stretches) {
    const list = from.get(stretch.verts[0]);
    if (list) list.push(stretch);
    else from.set(stretch.verts[0], [stretch]);
  }
  const outlines: CutOutline[] = [];
  for (const start of from.keys()) {
    while ((from.get(start)?.length ?? 0) > 0) {
      const verts: number[] = [];
      let straight = 0;
      for (let at = start; ; ) {
        const stretch = from.get(at)?.pop();
        if (stretch === undefined) break;
        verts.push(...stretch.verts.slice(0, -1));
        if (stretch.isStraight) straight++;
        at = stretch.verts[stretch.verts.length - 1];
        if (at === start) break;
      }
      outlines.push({ verts, straight });
    }
  }
  return outlines;
}
