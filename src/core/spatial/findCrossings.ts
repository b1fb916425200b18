import { BufferAttribute, BufferGeometry, Matrix4 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import type { TriMesh } from '../mesh/TriMesh.ts';

/**
 * The faces that pass through another face, by their numbers in ascending order. Faces that share a vertex, that only touch, or
 * that lie in one plane do not count.
 *
 * Two triangles cross when an edge of one pierces the other: told by the signs of five tetrahedra's volumes. Cost: about ten
 * seconds for a million triangles, so not for a plan's way.
 */
export function findCrossings(mesh: TriMesh): Uint32Array {
  const { positions: p, indices } = mesh;
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(p, 3));
  geometry.setIndex(new BufferAttribute(indices, 1));
  const bvh = new MeshBVH(geometry, { indirect: true, targetLeafSize: 4 });
  const isCrossing = new Uint8Array(indices.length / 3);
  bvh.bvhcast(bvh, new Matrix4(), {
    intersectsRanges: (offset1, count1, offset2, count2) => {
      for (let i = offset1; i < offset1 + count1; i++) {
        const t = bvh.resolveTriangleIndex(i);
        for (let j = offset2; j < offset2 + count2; j++) {
          const s = bvh.resolveTriangleIndex(j);
          // Every pair is met from both sides.
          if (s <= t || (isCrossing[t] !== 0 && isCrossing[s] !== 0)) continue;
          if (shareVertex(indices, t, s)) continue;
          if (!pierces(p, indices, t, s) && !pierces(p, indices, s, t)) continue;
          isCrossing[t] = 1;
          isCrossing[s] = 1;
        }
      }
      return false;
    },
  });
  const tris: number[] = [];
  for (let t = 0; t < isCrossing.length; t++) if (isCrossing[t] !== 0) tris.push(t);
  return Uint32Array.from(tris);
}

function shareVertex(indices: Uint32Array, t: number, s: number): boolean {
  for (let i = 3 * t; i < 3 * t + 3; i++) {
    const v = indices[i];
    if (v === indices[3 * s] || v === indices[3 * s + 1] || v === indices[3 * s + 2]) return true;
  }
  return false;
}

/** Whether an edge of triangle t passes through the inside of triangle s. */
function pierces(p: Float64Array, indices: Uint32Array, t: number, s: number): boolean {
  const a = 3 * indices[3 * s];
  const b = 3 * indices[3 * s + 1];
  const c = 3 * indices[3 * s + 2];
  for (let k = 0; k < 3; k++) {
    const from = 3 * indices[3 * t + k];
    const to = 3 * indices[3 * t + ((k + 1) % 3)];
    if (sideOf(p, a, b, c, from) * sideOf(p, a, b, c, to) >= 0) continue;
    const ab = sideOf(p, from, to, a, b);
    const bc = sideOf(p, from, to, b, c);
    const ca = sideOf(p, from, to, c, a);
    if ((ab > 0 && bc > 0 && ca > 0) || (ab < 0 && bc < 0 && ca < 0)) return true;
  }
  return false;
}

/** Six times the signed volume of the tetrahedron on a, b, c and d (offsets into p). */
function sideOf(p: Float64Array, a: number, b: number, c: number, d: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const wx = p[d] - p[a];
  const wy = p[d + 1] - p[a + 1];
  const wz = p[d + 2] - p[a + 2];
  return (uy * vz - uz * vy) * wx + (uz * vx - ux * vz) * wy + (ux * vy - uy * vx) * wz;
}
