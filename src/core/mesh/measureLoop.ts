import { nextInTri } from './halfEdges.ts';
import type { TriMesh, Vec3 } from './TriMesh.ts';

export interface OpenLoop {
  /** Border half-edges in order, see traceLoops. */
  readonly halfEdges: Uint32Array;
  /** Mean of its vertices. */
  readonly centre: Vec3;
  /** Area vector of a lid over the loop, outward like the surface: length = area, for a flat loop. */
  readonly lid: Vec3;
  readonly perimeter: number;
  readonly min: Vec3;
  readonly max: Vec3;
}

/** Where an open loop lies and how large it is, in the mesh's unit. */
export function measureLoop(mesh: TriMesh, halfEdges: Uint32Array): OpenLoop {
  const { positions: p, indices } = mesh;
  const centre: [number, number, number] = [0, 0, 0];
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const e of halfEdges) {
    for (let k = 0; k < 3; k++) {
      const x = p[3 * indices[e] + k];
      centre[k] += x / halfEdges.length;
      min[k] = Math.min(min[k], x);
      max[k] = Math.max(max[k], x);
    }
  }
  const lid: [number, number, number] = [0, 0, 0];
  let perimeter = 0;
  for (const e of halfEdges) {
    const a = 3 * indices[e];
    const b = 3 * indices[nextInTri(e)];
    const ax = p[a] - centre[0];
    const ay = p[a + 1] - centre[1];
    const az = p[a + 2] - centre[2];
    const bx = p[b] - centre[0];
    const by = p[b + 1] - centre[1];
    const bz = p[b + 2] - centre[2];
    // The lid runs against the border: b before a.
    lid[0] += (by * az - bz * ay) / 2;
    lid[1] += (bz * ax - bx * az) / 2;
    lid[2] += (bx * ay - by * ax) / 2;
    perimeter += Math.hypot(bx - ax, by - ay, bz - az);
  }
  return { halfEdges, centre, lid, perimeter, min, max };
}

/** The loop's vertices in order, n x 3. */
export function loopPoints(mesh: TriMesh, halfEdges: Uint32Array): Float64Array {
  const points = new Float64Array(3 * halfEdges.length);
  for (let i = 0; i < halfEdges.length; i++) {
    const v = 3 * mesh.indices[halfEdges[i]];
    for (let k = 0; k < 3; k++) points[3 * i + k] = mesh.positions[v + k];
  }
  return points;
}
