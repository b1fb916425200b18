import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';

/** A face made out on the surface: a plane fitted to it, and the triangles that it is fitted to. */
export interface FittedFace {
  /** Outward, length 1, board frame. */
  readonly normal: Vec3;
  /** Mean by area of the triangles' middles: a point of the plane. */
  readonly middleMm: Vec3;
  readonly areaMm2: number;
  readonly tris: readonly number[];
}

/** The plane begins with what lies within this share of the surface's diagonal round the spot. Own choice. */
const SEED_SHARE = 0.02;
/** From there on it takes what lies within this share of the diagonal from the plane and looks within 20 degrees its way. Own choice. */
const REACH_SHARE = 0.006;
const LEAST_ALIKE = Math.cos((20 * Math.PI) / 180);
/** Near the spot, what looks more than 60 degrees another way is another side (a rim, the back of a thin wall). */
const LEAST_NEAR = 0.5;
/** After two rounds the plane of a real face no longer moves. Own choice, seen on scans of tables and plinths. */
const ROUNDS = 2;

/** Middles, normals and areas of a surface's triangles, made once, so that faces can be made out under a moving pointer. */
export class FacetTable {
  private readonly middles: Float32Array;
  private readonly normals: Float32Array;
  private readonly areas: Float32Array;
  private readonly diagonalMm: number;

  constructor({ positions: p, indices }: SurfacePicture) {
    const count = indices.length / 3;
    this.middles = new Float32Array(3 * count);
    this.normals = new Float32Array(3 * count);
    this.areas = new Float32Array(count);
    const min = [Infinity, Infinity, Infinity];
    const max = [-Infinity, -Infinity, -Infinity];
    for (let t = 0; t < count; t++) {
      const a = 3 * indices[3 * t];
      const b = 3 * indices[3 * t + 1];
      const c = 3 * indices[3 * t + 2];
      const ux = p[b] - p[a];
      const uy = p[b + 1] - p[a + 1];
      const uz = p[b + 2] - p[a + 2];
      const vx = p[c] - p[a];
      const vy = p[c + 1] - p[a + 1];
      const vz = p[c + 2] - p[a + 2];
      const nx = uy * vz - uz * vy;
      const ny = uz * vx - ux * vz;
      const nz = ux * vy - uy * vx;
      const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
      this.areas[t] = twice / 2;
      if (twice > 0) {
        this.normals[3 * t] = nx / twice;
        this.normals[3 * t + 1] = ny / twice;
        this.normals[3 * t + 2] = nz / twice;
      }
      for (let k = 0; k < 3; k++) {
        const middle = (p[a + k] + p[b + k] + p[c + k]) / 3;
        this.middles[3 * t + k] = middle;
        if (middle < min[k]) min[k] = middle;
        if (middle > max[k]) max[k] = middle;
      }
    }
    this.diagonalMm = count > 0 ? Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) : 0;
  }

  /**
   * The face that a spot of the surface belongs to: a plane through what is near, then through all that lies in that
   * plane and looks its way, so that a foot of several parts counts as one. Null when nothing there has an area.
   * Cost: three passes over the triangles.
   */
  fitFace(atMm: Vec3, tri: number): FittedFace | null {
    const { middles: m, normals: n } = this;
    const look: Vec3 = [n[3 * tri], n[3 * tri + 1], n[3 * tri + 2]];
    const radius2 = (SEED_SHARE * this.diagonalMm) ** 2;
    let face = this.fit((i) => {
      const away2 = (m[i] - atMm[0]) ** 2 + (m[i + 1] - atMm[1]) ** 2 + (m[i + 2] - atMm[2]) ** 2;
      return away2 <= radius2 && n[i] * look[0] + n[i + 1] * look[1] + n[i + 2] * look[2] > LEAST_NEAR;
    });
    // On a coarse mesh no middle may be near: the triangle itself is the face then.
    face ??= this.fit((i) => i === 3 * tri);
    const reachMm = REACH_SHARE * this.diagonalMm;
    for (let round = 0; round < ROUNDS && face !== null; round++) {
      const { normal, middleMm } = face;
      const level = normal[0] * middleMm[0] + normal[1] * middleMm[1] + normal[2] * middleMm[2];
      face =
        this.fit(
          (i) =>
            Math.abs(normal[0] * m[i] + normal[1] * m[i + 1] + normal[2] * m[i + 2] - level) <= reachMm &&
            normal[0] * n[i] + normal[1] * n[i + 1] + normal[2] * n[i + 2] >= LEAST_ALIKE,
        ) ?? face;
    }
    return face;
  }

  private fit(isPart: (at: number) => boolean): FittedFace | null {
    const { middles, normals, areas } = this;
    const tris: number[] = [];
    let area = 0;
    const look: [number, number, number] = [0, 0, 0];
    const middle: [number, number, number] = [0, 0, 0];
    for (let t = 0; t < areas.length; t++) {
      if (areas[t] === 0 || !isPart(3 * t)) continue;
      tris.push(t);
      area += areas[t];
      for (let k = 0; k < 3; k++) {
        look[k] += areas[t] * normals[3 * t + k];
        middle[k] += areas[t] * middles[3 * t + k];
      }
    }
    const length = Math.hypot(...look);
    if (!(area > 0) || !(length > 0)) return null;
    return {
      normal: [look[0] / length, look[1] / length, look[2] / length],
      middleMm: [middle[0] / area, middle[1] / area, middle[2] / area],
      areaMm2: area,
      tris,
    };
  }
}
