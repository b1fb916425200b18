import type { LookSurface } from '../field/contourPieces.ts';
import type { PartingWall } from './buildWall.ts';

/**
 * The flange of one region as a slab beside the parting wall, from `fromMm` to `toMm` above the rubber, for looking at.
 * The wall's quads are known by their order: two triangles a ruling step; fans are left out.
 */
export function buildFlangeLook(
  wall: PartingWall,
  region: number,
  fromMm: number,
  toMm: number,
  heightMm: number,
  thicknessMm: number,
): LookSurface {
  const { positions: p, indices } = wall.mesh;
  const positions: number[] = [];
  const out: number[] = [];
  /** Corner of the slab at a ruling: foot and top of the ruling, height above the rubber, distance off the wall. */
  const addVert = (
    foot: number,
    top: number,
    upMm: number,
    off: readonly number[],
    offMm: number,
  ): number => {
    const u = upMm / heightMm;
    for (let k = 0; k < 3; k++) {
      const at = p[3 * foot + k] + u * (p[3 * top + k] - p[3 * foot + k]) + offMm * off[k];
      positions.push(k === 2 ? Math.max(0, at) : at);
    }
    return positions.length / 3 - 1;
  };
  for (let t = 0; t + 1 < wall.left.length; t++) {
    // A quad is (foot, nextFoot, nextTop), (foot, nextTop, top); a fan's triangles share no such pattern.
    const isQuad = indices[3 * t] === indices[3 * t + 3] && indices[3 * t + 2] === indices[3 * t + 4];
    if (!isQuad) continue;
    const side = wall.left[t] === region ? -1 : wall.right[t] === region ? 1 : 0;
    if (side !== 0) {
      const [foot, nextFoot, nextTop] = [indices[3 * t], indices[3 * t + 1], indices[3 * t + 2]];
      const top = indices[3 * t + 5];
      const normal = quadNormal(p, foot, nextFoot, nextTop, top).map((n) => n * side);
      // Ring of the slab's section at both rulings: at the wall below and above, off the wall above and below.
      const ring = (f: number, g: number): number[] => [
        addVert(f, g, fromMm, normal, 0),
        addVert(f, g, toMm, normal, 0),
        addVert(f, g, toMm, normal, thicknessMm),
        addVert(f, g, fromMm, normal, thicknessMm),
      ];
      const a = ring(foot, top);
      const b = ring(nextFoot, nextTop);
      for (let k = 0; k < 4; k++) {
        const [a0, a1, b0, b1] = [a[k], a[(k + 1) % 4], b[k], b[(k + 1) % 4]];
        if (side > 0) out.push(a0, b1, b0, a0, a1, b1);
        else out.push(a0, b0, b1, a0, b1, a1);
      }
      // The ends of the slab are closed at every step: hidden inside, seen only at the line's ends.
      if (side > 0) out.push(a[0], a[2], a[1], a[0], a[3], a[2], b[0], b[1], b[2], b[0], b[2], b[3]);
      else out.push(a[0], a[1], a[2], a[0], a[2], a[3], b[0], b[2], b[1], b[0], b[3], b[2]);
    }
    t++;
  }
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(out) };
}

function quadNormal(p: Float64Array, a: number, b: number, c: number, d: number): number[] {
  const u = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
  const v = [0, 1, 2].map((k) => p[3 * d + k] - p[3 * b + k]);
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(...n) || 1;
  return n.map((x) => x / length);
}
