import type { Vec3 } from '../../mesh/TriMesh.ts';

/** Where on the stretch from `a` to `b` the point nearest to `q` lies: its share from a (0..1) and its distance, mm. */
export function nearestOnSegment(a: Vec3, b: Vec3, q: Vec3): { share: number; distanceMm: number } {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const dz = b[2] - a[2];
  const len2 = dx * dx + dy * dy + dz * dz;
  const dot = (q[0] - a[0]) * dx + (q[1] - a[1]) * dy + (q[2] - a[2]) * dz;
  const share = len2 > 0 ? Math.min(1, Math.max(0, dot / len2)) : 0;
  return {
    share,
    distanceMm: Math.hypot(a[0] + share * dx - q[0], a[1] + share * dy - q[1], a[2] + share * dz - q[2]),
  };
}
