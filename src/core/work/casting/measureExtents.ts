import type { Vec3 } from '../../mesh/TriMesh.ts';

/** How a piece lies to its pull, mm. */
export interface PieceExtents {
  /** Across the pull, level: for a pull straight up or down the longer level side. */
  readonly acrossMm: number;
  /** Along the pull. */
  readonly alongMm: number;
}

/** A pull within a degree of upright has no level direction across it that means more than another. */
const UPRIGHT_COS = Math.cos(Math.PI / 180);

/** Extents of every piece's rubber, across and along its pull. Cost: one pass over the triangles. */
export function measureExtents(
  positions: Float64Array,
  indices: Uint32Array,
  triRegion: Int32Array,
  pulls: readonly Vec3[],
): PieceExtents[] {
  // Three directions for each piece: along the pull, across it, and for upright pulls a second one across.
  const axes = pulls.map(([x, y, z]) => {
    const level = Math.hypot(x, y);
    if (Math.abs(z) >= UPRIGHT_COS || level === 0) return [x, y, z, 1, 0, 0, 0, 1, 0];
    return [x, y, z, -y / level, x / level, 0, -y / level, x / level, 0];
  });
  const least = new Float64Array(3 * pulls.length).fill(Infinity);
  const most = new Float64Array(3 * pulls.length).fill(-Infinity);
  // By vertex the region, plus one, that it was last counted for: its other triangles say nothing new.
  const counted = new Int32Array(positions.length / 3);
  for (let t = 0; t < triRegion.length; t++) {
    const region = triRegion[t];
    if (region < 0) continue;
    const axis = axes[region];
    for (let k = 0; k < 3; k++) {
      const vert = indices[3 * t + k];
      if (counted[vert] === region + 1) continue;
      counted[vert] = region + 1;
      const v = 3 * vert;
      for (let n = 0; n < 3; n++) {
        const at =
          positions[v] * axis[3 * n] +
          positions[v + 1] * axis[3 * n + 1] +
          positions[v + 2] * axis[3 * n + 2];
        const slot = 3 * region + n;
        if (at < least[slot]) least[slot] = at;
        if (at > most[slot]) most[slot] = at;
      }
    }
  }
  return pulls.map((_, region) => {
    const extent = (n: number): number => Math.max(0, most[3 * region + n] - least[3 * region + n]);
    return { alongMm: extent(0), acrossMm: Math.max(extent(1), extent(2)) };
  });
}
