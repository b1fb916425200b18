import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { cameraBasis, dot } from './cameraBasis.ts';
import { POLAR_MAX_RAD } from './OrbitState.ts';

/** Directions tried round the compass and from overhead to below level. Own choice: 15 degrees apart level. */
const AZIMUTHS = 24;
const POLARS_RAD = [0.35, 0.65, 0.95, 1.2, 1.4, Math.PI / 2, POLAR_MAX_RAD];

export interface LookAngles {
  readonly azimuthRad: number;
  readonly polarRad: number;
  /** From the spot to the camera, unit. */
  readonly toward: Vec3;
}

/** Where the camera may stand to look at a spot with this outward normal, the most square on first. */
export function anglesAround(normal: Vec3): LookAngles[] {
  const out: LookAngles[] = [];
  const polarRad = Math.min(POLAR_MAX_RAD, Math.acos(Math.min(1, Math.max(-1, normal[2]))));
  const level = Math.hypot(normal[0], normal[1]);
  if (level > 1e-6) {
    const azimuthRad = Math.atan2(normal[1], normal[0]);
    out.push({ azimuthRad, polarRad, toward: cameraBasis(azimuthRad, polarRad).back });
  }
  for (const polar of POLARS_RAD) {
    for (let i = 0; i < AZIMUTHS; i++) {
      const azimuthRad = (2 * Math.PI * i) / AZIMUTHS;
      out.push({ azimuthRad, polarRad: polar, toward: cameraBasis(azimuthRad, polar).back });
    }
  }
  return out.sort((a, b) => dot(b.toward, normal) - dot(a.toward, normal));
}

/**
 * The mean outward normal, by area, of the triangles whose first corner lies within `radiusMm` of a point; of the triangle
 * with the nearest first corner when there is none. Up for an empty surface. Cost: one pass over the triangles.
 */
export function outwardNormal({ positions: p, indices }: SurfacePicture, at: Vec3, radiusMm: number): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  const nearest: [number, number, number] = [0, 0, 1];
  let nearest2 = Infinity;
  const radius2 = radiusMm * radiusMm;
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const away2 = (p[a] - at[0]) ** 2 + (p[a + 1] - at[1]) ** 2 + (p[a + 2] - at[2]) ** 2;
    if (away2 > radius2 && away2 >= nearest2) continue;
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx] as const;
    if (away2 < nearest2) {
      nearest2 = away2;
      for (let k = 0; k < 3; k++) nearest[k] = n[k];
    }
    if (away2 <= radius2) for (let k = 0; k < 3; k++) sum[k] += n[k];
  }
  const mean = Math.hypot(...sum) > 0 ? sum : nearest;
  const length = Math.hypot(...mean);
  return length > 0 ? [mean[0] / length, mean[1] / length, mean[2] / length] : [0, 0, 1];
}
