import { compactVerts } from './compactVerts.ts';
import type { TriMesh, Vec3 } from './TriMesh.ts';
import { writeNormal } from './writeNormal.ts';

/** A half-space: normal . x <= offset is kept. The normal has length 1. */
export interface KeptSide {
  readonly normal: Vec3;
  readonly offset: number;
}

/**
 * The part of the mesh on the kept side; triangles that straddle the plane are cut exactly, new vertices shared between
 * neighbours. Vertices within `snap` of the plane are taken to lie in it; when the normal is an axis they are put there
 * exactly. Triangles that lie in the plane stay when they look along the normal (the lid of what is kept) and go when
 * they look against it. Winding is kept. `goneTris`: the numbers of the triangles dropped or cut. O(n).
 */
export function cutByPlane(
  mesh: TriMesh,
  side: KeptSide,
  snap: number,
): { mesh: TriMesh; dropped: number; cut: number; goneTris: readonly number[] } {
  const { positions: p, indices } = mesh;
  const [nx, ny, nz] = side.normal;
  const axis = side.normal.findIndex((x) => Math.abs(x) === 1);
  const level = axis >= 0 ? side.offset * side.normal[axis] + 0 : 0;
  const vertCount = p.length / 3;
  const inside = new Float64Array(vertCount);
  const snapped: number[] = [];
  let clear = 0;
  let inPlane = 0;
  for (let v = 0; v < vertCount; v++) {
    const d = side.offset - (nx * p[3 * v] + ny * p[3 * v + 1] + nz * p[3 * v + 2]);
    const own = Math.abs(d) <= snap ? 0 : d;
    inside[v] = own;
    if (own > 0) {
      clear++;
    } else if (own === 0) {
      inPlane++;
      if (axis >= 0 && p[3 * v + axis] !== level) snapped.push(v);
    }
  }
  // Nothing lies beyond the plane, and too few vertices in it for a triangle: none needs to be looked at.
  if (clear + inPlane === vertCount && inPlane < 3 && snapped.length === 0) {
    return { mesh, dropped: 0, cut: 0, goneTris: [] };
  }
  const kept: number[] = [];
  const added: number[] = [];
  const onEdge = new Map<number, number>();
  const cross = (v: number, w: number): number => {
    // From the lower vertex always, so that both faces of the edge get the same point.
    const low = Math.min(v, w);
    const high = Math.max(v, w);
    const key = low * vertCount + high;
    let at = onEdge.get(key);
    if (at === undefined) {
      at = vertCount + added.length / 3;
      onEdge.set(key, at);
      const share = inside[low] / (inside[low] - inside[high]);
      for (let k = 0; k < 3; k++) {
        added.push(k === axis ? level : p[3 * low + k] + share * (p[3 * high + k] - p[3 * low + k]));
      }
    }
    return at;
  };
  let dropped = 0;
  let cut = 0;
  const goneTris: number[] = [];
  const triCount = indices.length / 3;
  const out = new Uint32Array(indices.length);
  let length = 0;
  for (let t = 0; t < triCount; t++) {
    const a = indices[3 * t];
    const b = indices[3 * t + 1];
    const c = indices[3 * t + 2];
    const da = inside[a];
    const db = inside[b];
    const dc = inside[c];
    if (da >= 0 && db >= 0 && dc >= 0) {
      if (da === 0 && db === 0 && dc === 0 && !looksAlong(p, a, b, c, side.normal)) {
        dropped++;
        goneTris.push(t);
        continue;
      }
      out[length++] = a;
      out[length++] = b;
      out[length++] = c;
    } else if (da <= 0 && db <= 0 && dc <= 0) {
      dropped++;
      goneTris.push(t);
    } else {
      cut++;
      goneTris.push(t);
      const ring: number[] = [];
      for (const [v, w] of [
        [a, b],
        [b, c],
        [c, a],
      ]) {
        if (inside[v] >= 0) ring.push(v);
        if (inside[v] * inside[w] < 0) ring.push(cross(v, w));
      }
      kept.push(ring[0], ring[1], ring[2]);
      if (ring.length === 4) kept.push(ring[0], ring[2], ring[3]);
    }
  }
  if (dropped === 0 && cut === 0 && snapped.length === 0) return { mesh, dropped, cut, goneTris };
  const positions = new Float64Array(p.length + added.length);
  positions.set(p);
  positions.set(added, p.length);
  for (const v of snapped) positions[3 * v + axis] = level;
  const all = new Uint32Array(length + kept.length);
  all.set(out.subarray(0, length));
  all.set(kept, length);
  return { mesh: compactVerts({ positions, indices: all }), dropped, cut, goneTris };
}

function looksAlong(p: Float64Array, i: number, j: number, k: number, n: Vec3): boolean {
  const normal = new Float64Array(3);
  writeNormal(p, i, j, k, normal);
  return normal[0] * n[0] + normal[1] * n[1] + normal[2] * n[2] > 0;
}
