import { nextInTri } from './halfEdges.ts';
import type { TriMesh } from './TriMesh.ts';

/**
 * The mesh with a straight skirt from an open loop down to z = 0, wound like the surface it continues. Points of the loop
 * that already lie on z = 0 stay. The new triangles are the last ones; their area is returned.
 */
export function extrudeSkirt(mesh: TriMesh, halfEdges: Uint32Array): { mesh: TriMesh; areaMm2: number } {
  const { positions: p, indices } = mesh;
  const vertCount = p.length / 3;
  const foot = new Map<number, number>();
  const added: number[] = [];
  const footOf = (v: number): number => {
    if (p[3 * v + 2] === 0) return v;
    let at = foot.get(v);
    if (at === undefined) {
      at = vertCount + added.length / 3;
      foot.set(v, at);
      added.push(p[3 * v], p[3 * v + 1], 0);
    }
    return at;
  };
  const faces: number[] = [];
  let areaMm2 = 0;
  for (const e of halfEdges) {
    const a = indices[e];
    const b = indices[nextInTri(e)];
    const a0 = footOf(a);
    const b0 = footOf(b);
    const width = Math.hypot(p[3 * b] - p[3 * a], p[3 * b + 1] - p[3 * a + 1]);
    if (!(width > 0)) continue;
    if (a0 !== a) faces.push(b, a, a0);
    if (b0 !== b) faces.push(b, a0, b0);
    areaMm2 += (width * (p[3 * a + 2] + p[3 * b + 2])) / 2;
  }
  const positions = new Float64Array(p.length + added.length);
  positions.set(p);
  positions.set(added, p.length);
  const all = new Uint32Array(indices.length + faces.length);
  all.set(indices);
  all.set(faces, indices.length);
  return { mesh: { positions, indices: all }, areaMm2 };
}
