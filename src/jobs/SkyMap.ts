import type { TriMesh, Vec3 } from '../core/mesh/TriMesh.ts';

/** Cells along the longer side: fine enough to free most of a shell from rays, filled in a few milliseconds. */
const CELLS = 192;

/**
 * For a direction, a coarse map of how high a mesh reaches along it: never lower than it is, so that a point above the
 * map surely has nothing of the mesh ahead. Each triangle fills the cells of its box. Cost: linear in triangles.
 */
export class SkyMap {
  private readonly top: Float32Array;
  private readonly u: Vec3;
  private readonly v: Vec3;
  private readonly uMin: number;
  private readonly vMin: number;
  private readonly cellMm: number;
  private readonly width: number;
  private readonly height: number;

  /** @param direction unit */
  constructor(
    mesh: TriMesh,
    private readonly direction: Vec3,
  ) {
    this.u = squareTo(direction);
    this.v = cross(direction, this.u);
    const { positions, indices } = mesh;
    const count = positions.length / 3;
    const flat = new Float64Array(positions.length);
    let uMin = Infinity;
    let vMin = Infinity;
    let uMax = -Infinity;
    let vMax = -Infinity;
    for (let i = 0; i < count; i++) {
      const x = positions[3 * i];
      const y = positions[3 * i + 1];
      const z = positions[3 * i + 2];
      const u = x * this.u[0] + y * this.u[1] + z * this.u[2];
      const v = x * this.v[0] + y * this.v[1] + z * this.v[2];
      flat[3 * i] = u;
      flat[3 * i + 1] = v;
      flat[3 * i + 2] = x * direction[0] + y * direction[1] + z * direction[2];
      uMin = Math.min(uMin, u);
      vMin = Math.min(vMin, v);
      uMax = Math.max(uMax, u);
      vMax = Math.max(vMax, v);
    }
    this.uMin = uMin;
    this.vMin = vMin;
    this.cellMm = Math.max(uMax - uMin, vMax - vMin, 1e-9) / CELLS;
    this.width = Math.max(1, Math.ceil((uMax - uMin) / this.cellMm + 1e-9)) + 1;
    this.height = Math.max(1, Math.ceil((vMax - vMin) / this.cellMm + 1e-9)) + 1;
    this.top = new Float32Array(this.width * this.height).fill(-Infinity);
    for (let t = 0; t < indices.length; t += 3) {
      const a = 3 * indices[t];
      const b = 3 * indices[t + 1];
      const c = 3 * indices[t + 2];
      // One step of Float32 more, since the map must not be lower than the mesh.
      const top = Math.max(flat[a + 2], flat[b + 2], flat[c + 2]) + 1e-4;
      const u0 = this.column(Math.min(flat[a], flat[b], flat[c]));
      const u1 = this.column(Math.max(flat[a], flat[b], flat[c]));
      const v0 = this.row(Math.min(flat[a + 1], flat[b + 1], flat[c + 1]));
      const v1 = this.row(Math.max(flat[a + 1], flat[b + 1], flat[c + 1]));
      for (let j = v0; j <= v1; j++) {
        for (let i = u0; i <= u1; i++) {
          const cell = j * this.width + i;
          if (top > this.top[cell]) this.top[cell] = top;
        }
      }
    }
  }

  /** False when surely nothing of the mesh lies ahead of the point. */
  isBelow(x: number, y: number, z: number): boolean {
    const i = this.column(x * this.u[0] + y * this.u[1] + z * this.u[2]);
    const j = this.row(x * this.v[0] + y * this.v[1] + z * this.v[2]);
    if (i < 0 || j < 0 || i >= this.width || j >= this.height) return false;
    const d = this.direction;
    return x * d[0] + y * d[1] + z * d[2] < this.top[j * this.width + i];
  }

  private column(u: number): number {
    return Math.floor((u - this.uMin) / this.cellMm);
  }

  private row(v: number): number {
    return Math.floor((v - this.vMin) / this.cellMm);
  }
}

/** A unit vector square to `d`. */
function squareTo(d: Vec3): Vec3 {
  const axis: Vec3 = Math.abs(d[2]) < 0.8 ? [0, 0, 1] : [1, 0, 0];
  const u = cross(axis, d);
  const length = Math.hypot(u[0], u[1], u[2]);
  return [u[0] / length, u[1] / length, u[2] / length];
}

const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
