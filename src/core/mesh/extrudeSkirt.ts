import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh with a straight skirt from an open loop down to z = 0, wound like the surface it continues. Points of the loop
 * that already lie on z = 0 stay. The new triangles are the last ones; their area is returned.
 *
 * Points of the loop straight above each other share one foot, and those between belong to the side of the taller
 * neighbour, so that the skirt of a stepped loop closes too. O(n) in the loop.
 */
export function extrudeSkirt(mesh: TriMesh, halfEdges: Uint32Array): { mesh: TriMesh; areaMm2: number } {
  const { positions: p, indices } = mesh;
  const vertCount = p.length / 3;
  const columns = findColumns(p, indices, halfEdges);
  const added: number[] = [];
  const feet = columns.map((column) => {
    const onBoard = column.find((v) => p[3 * v + 2] === 0);
    if (onBoard !== undefined) return onBoard;
    added.push(p[3 * column[0]], p[3 * column[0] + 1], 0);
    return vertCount + added.length / 3 - 1;
  });
  const z = (v: number): number => (v < vertCount ? p[3 * v + 2] : 0);
  const faces: number[] = [];
  let areaMm2 = 0;
  for (let i = 0; i < columns.length; i++) {
    const here = columns[i];
    const there = columns[(i + 1) % columns.length];
    const a = here[here.length - 1];
    const b = there[0];
    // Downwards on both sides of the strip between two columns; a column that rises along the loop hangs on its end.
    const isRising = z(a) > z(here[0]);
    const isFalling = z(there[there.length - 1]) < z(b);
    const left = sideOf(isRising ? here.slice().reverse() : [a], feet[i]);
    const right = sideOf(isFalling ? there : [b], feet[(i + 1) % columns.length]);
    let l = 0;
    let r = 0;
    while (l < left.length - 1 || r < right.length - 1) {
      const takesLeft = r === right.length - 1 || (l < left.length - 1 && z(left[l + 1]) >= z(right[r + 1]));
      if (takesLeft) faces.push(right[r], left[l], left[++l]);
      else faces.push(right[r], left[l], right[++r]);
    }
    areaMm2 += (Math.hypot(p[3 * b] - p[3 * a], p[3 * b + 1] - p[3 * a + 1]) * (z(a) + z(b))) / 2;
  }
  const positions = new Float64Array(p.length + added.length);
  positions.set(p);
  positions.set(added, p.length);
  const all = new Uint32Array(indices.length + faces.length);
  all.set(indices);
  all.set(faces, indices.length);
  return { mesh: { positions, indices: all }, areaMm2 };
}

/** The loop's vertices in its order, those straight above each other taken together. */
function findColumns(p: Float64Array, indices: Uint32Array, halfEdges: Uint32Array): number[][] {
  const isVertical = Array.from(halfEdges, (e) => {
    const a = 3 * indices[e];
    const b = 3 * indices[nextInTri(e)];
    return p[a] === p[b] && p[a + 1] === p[b + 1];
  });
  // Begun after an edge that is not vertical, so that no column is torn by the start of the list.
  const start = isVertical.indexOf(false) + 1;
  const columns: number[][] = [];
  for (let n = 0; n < halfEdges.length; n++) {
    const at = (start + n) % halfEdges.length;
    const v = indices[halfEdges[at]];
    if (n > 0 && isVertical[(at + halfEdges.length - 1) % halfEdges.length])
      columns[columns.length - 1].push(v);
    else columns.push([v]);
  }
  return columns;
}

/** One side of a strip, from its upper end down to the foot; what comes after a foot on the board is left out. */
function sideOf(verts: readonly number[], foot: number): number[] {
  const at = verts.indexOf(foot);
  return at >= 0 ? verts.slice(0, at + 1) : [...verts, foot];
}
