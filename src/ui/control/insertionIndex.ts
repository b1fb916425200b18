import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../core/plan/PlanDocument.ts';

/**
 * Where a new point belongs: the line and place between two neighbours to which the detour over the point is least.
 * Null when there is no line. The point goes before `index` (equal to the count of points: between last and first).
 */
export function insertionIndex(
  lines: readonly PartingLinePlan[],
  point: Vec3,
): { readonly line: number; readonly index: number } | null {
  let best: { line: number; index: number } | null = null;
  let least = Number.POSITIVE_INFINITY;
  lines.forEach((line, l) => {
    const count = line.points.length;
    const spans = line.closed ? count : count - 1;
    for (let i = 0; i < spans; i++) {
      const from = line.points[i];
      const to = line.points[(i + 1) % count];
      const detour = distance(from, point) + distance(point, to) - distance(from, to);
      if (detour < least) {
        least = detour;
        best = { line: l, index: i + 1 };
      }
    }
  });
  return best;
}

function distance(a: Vec3, b: Vec3): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
