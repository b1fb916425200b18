import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';

/** A box with each face divided n x n, welded. */
export function dividedBox(a: number, b: number, c: number, n: number): TriMesh {
  const positions: number[] = [];
  const indices: number[] = [];
  const known = new Map<string, number>();
  const vert = (p: readonly number[]): number => {
    const key = p.join();
    let v = known.get(key);
    if (v === undefined) {
      v = positions.length / 3;
      positions.push((p[0] * a) / n, (p[1] * b) / n, (p[2] * c) / n);
      known.set(key, v);
    }
    return v;
  };
  for (let axis = 0; axis < 3; axis++) {
    for (const end of [0, n]) {
      const at = (i: number, j: number): number => {
        const p = [0, 0, 0];
        p[axis] = end;
        p[(axis + 1) % 3] = i;
        p[(axis + 2) % 3] = j;
        return vert(p);
      };
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          const q = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
          if (end === 0) q.reverse();
          indices.push(q[0], q[1], q[2], q[0], q[2], q[3]);
        }
      }
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
