import type { Vec3 } from '../core/mesh/TriMesh.ts';
import { formatLength, type UnitSystem } from '../core/units.ts';

/** One length in both systems, for a size that is still in question: "1.80 m (70 7/8 in)". */
export function sayBothLengths(mm: number): string {
  return `${formatLength(mm, 'metric')} (${formatLength(mm, 'us')})`;
}

/** Width, depth and height in one line. */
export function saySize(sizeMm: Vec3, system: UnitSystem): string {
  return sizeMm.map((mm) => formatLength(mm, system)).join(' \u00d7 ');
}
