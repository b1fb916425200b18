import type { TriMesh } from '../../../src/core/mesh/TriMesh.ts';

/** A profile of (x, z) points, left to right with the air above it, drawn out along y from -halfLength to halfLength: facing up. */
export function extrudeProfile(
  profile: readonly (readonly [number, number])[],
  halfLength: number,
  step: number,
): TriMesh {
  const fine: [number, number][] = [];
  profile.forEach(([x, z], n) => {
    if (n > 0) {
      const [fromX, fromZ] = profile[n - 1];
      const parts = Math.max(1, Math.round(Math.hypot(x - fromX, z - fromZ) / step));
      for (let i = 1; i < parts; i++) {
        fine.push([fromX + ((x - fromX) * i) / parts, fromZ + ((z - fromZ) * i) / parts]);
      }
    }
    fine.push([x, z]);
  });
  const rows = Math.round((2 * halfLength) / step) + 1;
  const positions = new Float64Array(3 * rows * fine.length);
  const indices: number[] = [];
  for (let row = 0; row < rows; row++) {
    for (let n = 0; n < fine.length; n++) {
      const v = row * fine.length + n;
      positions.set([fine[n][0], -halfLength + (2 * halfLength * row) / (rows - 1), fine[n][1]], 3 * v);
      if (row === 0 || n === 0) continue;
      const left = v - 1;
      const below = v - fine.length;
      indices.push(below - 1, below, v, below - 1, v, left);
    }
  }
  return { positions, indices: Uint32Array.from(indices) };
}
