import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';

/**
 * Volume and cut area of a closed mesh where normal . x <= offset; the normal has length 1. Each face is clipped as a polygon
 * (Sutherland and Hodgman, from memory). Seen from a point of the plane the cut face spans no volume, and the area vectors of
 * what is left sum to minus its own: neither figure needs the cut face. Own arithmetic, nothing of the code under test.
 */
export function clippedByHand(
  { positions: p, indices }: TriMesh,
  normal: readonly number[],
  offset: number,
): { volumeMm3: number; cutMm2: number } {
  let volume = 0;
  const areaVector = [0, 0, 0];
  for (let t = 0; t < indices.length; t += 3) {
    const corners = [0, 1, 2].map((k) =>
      [0, 1, 2].map((x) => p[3 * indices[t + k] + x] - offset * normal[x]),
    );
    const height = (a: readonly number[]): number => a[0] * normal[0] + a[1] * normal[1] + a[2] * normal[2];
    const kept: number[][] = [];
    corners.forEach((a, k) => {
      const b = corners[(k + 1) % 3];
      if (height(a) <= 0) kept.push(a);
      if (height(a) <= 0 !== height(b) <= 0) {
        const share = height(a) / (height(a) - height(b));
        kept.push(a.map((x, i) => x + share * (b[i] - x)));
      }
    });
    for (let k = 1; k + 1 < kept.length; k++) {
      const [a, b, c] = [kept[0], kept[k], kept[k + 1]];
      const u = b.map((x, i) => x - a[i]);
      const v = c.map((x, i) => x - a[i]);
      const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      volume += (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6;
      for (let i = 0; i < 3; i++) areaVector[i] += cross[i] / 2;
    }
  }
  const cutMm2 = -(areaVector[0] * normal[0] + areaVector[1] * normal[1] + areaVector[2] * normal[2]);
  return { volumeMm3: volume, cutMm2 };
}
