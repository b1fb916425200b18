import type { Vec3 } from '../mesh/TriMesh.ts';

/** A place as people read it, mm, to a tenth. */
export function sayPlace(point: Vec3): string {
  return `(${point.map((c) => (Math.round(c * 10) / 10).toString()).join(', ')}) mm`;
}
