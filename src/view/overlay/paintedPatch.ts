import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';

/** An area as the view needs it: the part of the surface within the radius of any dab. */
export interface PaintedArea {
  readonly radiusMm: number;
  readonly dabsMm: readonly Vec3[];
}

/** Triangles of the rubber near the dabs, with how far each corner lies inside the painted area. */
export interface PaintedPatch {
  /** n x 9, mm. */
  readonly positions: Float32Array;
  /** n x 3: mm inside (positive) or outside the area. */
  readonly reachMm: Float32Array;
}

/** Larger triangles are divided until no side is longer than this share of the radius, so that the border is drawn round. */
const SIDE_SHARE = 0.5;
/** A triangle is divided in four at most so often: a side of 256 radii is then drawn fine enough. */
const MOST_DIVISIONS = 9;

/**
 * The painted part of a surface, to be drawn over it. Cost: one pass over the triangles with a look into a hash of cubes; the
 * painted ones are measured against the dabs of their cubes alone.
 */
export function paintedPatch(
  { positions: p, indices }: SurfacePicture,
  areas: readonly PaintedArea[],
): PaintedPatch {
  const positions: number[] = [];
  const reachMm: number[] = [];
  for (const { radiusMm, dabsMm } of areas) {
    if (dabsMm.length === 0) continue;
    const dabs = new DabHash(dabsMm, radiusMm);
    const add = (corners: readonly number[], depth: number): void => {
      const [ax, ay, az, bx, by, bz, cx, cy, cz] = corners;
      const isSmall =
        Math.max(
          Math.hypot(bx - ax, by - ay, bz - az),
          Math.hypot(cx - bx, cy - by, cz - bz),
          Math.hypot(ax - cx, ay - cy, az - cz),
        ) <=
        SIDE_SHARE * radiusMm;
      if (!dabs.mayTouch(corners)) return;
      if (isSmall || depth === 0) {
        const reach = [dabs.reachInto(ax, ay, az), dabs.reachInto(bx, by, bz), dabs.reachInto(cx, cy, cz)];
        if (Math.max(...reach) <= -SIDE_SHARE * radiusMm) return;
        for (const x of corners) positions.push(x);
        for (const mm of reach) reachMm.push(mm);
        return;
      }
      const d = [(ax + bx) / 2, (ay + by) / 2, (az + bz) / 2];
      const e = [(bx + cx) / 2, (by + cy) / 2, (bz + cz) / 2];
      const f = [(cx + ax) / 2, (cy + ay) / 2, (cz + az) / 2];
      add([ax, ay, az, ...d, ...f], depth - 1);
      add([...d, bx, by, bz, ...e], depth - 1);
      add([...f, ...e, cx, cy, cz], depth - 1);
      add([...d, ...e, ...f], depth - 1);
    };
    const corners = new Array<number>(9);
    for (let t = 0; t < indices.length; t += 3) {
      for (let k = 0; k < 9; k++) corners[k] = p[3 * indices[t + ((k / 3) | 0)] + (k % 3)];
      if (dabs.isInBox(corners)) add(corners.slice(), MOST_DIVISIONS);
    }
  }
  return { positions: Float32Array.from(positions), reachMm: Float32Array.from(reachMm) };
}

/** Dabs of one radius, by cubes as wide as their reach. */
class DabHash {
  private readonly cubes = new Map<string, Vec3[]>();
  private readonly edgeMm: number;
  private readonly low: [number, number, number] = [Infinity, Infinity, Infinity];
  private readonly high: [number, number, number] = [-Infinity, -Infinity, -Infinity];

  constructor(
    private readonly dabsMm: readonly Vec3[],
    private readonly radiusMm: number,
  ) {
    this.edgeMm = 2 * radiusMm;
    for (const dab of dabsMm) {
      for (let k = 0; k < 3; k++) {
        this.low[k] = Math.min(this.low[k], dab[k] - radiusMm);
        this.high[k] = Math.max(this.high[k], dab[k] + radiusMm);
      }
      // Every cube from which a dab may be seen within 1.5 radii holds it.
      const reach = 1.5 * radiusMm;
      const from = dab.map((x) => Math.floor((x - reach) / this.edgeMm));
      const to = dab.map((x) => Math.floor((x + reach) / this.edgeMm));
      for (let i = from[0]; i <= to[0]; i++)
        for (let j = from[1]; j <= to[1]; j++)
          for (let k = from[2]; k <= to[2]; k++) {
            const key = `${i} ${j} ${k}`;
            const list = this.cubes.get(key);
            if (list) list.push(dab);
            else this.cubes.set(key, [dab]);
          }
    }
  }

  /** The triangle's box meets the box of all dabs. */
  isInBox(c: readonly number[]): boolean {
    for (let k = 0; k < 3; k++) {
      if (Math.max(c[k], c[3 + k], c[6 + k]) < this.low[k]) return false;
      if (Math.min(c[k], c[3 + k], c[6 + k]) > this.high[k]) return false;
    }
    return true;
  }

  /** False when no dab reaches the triangle's circle about its middle. */
  mayTouch(c: readonly number[]): boolean {
    const m = [0, 1, 2].map((k) => (c[k] + c[3 + k] + c[6 + k]) / 3);
    let radius = 0;
    for (let k = 0; k < 9; k += 3)
      radius = Math.max(radius, Math.hypot(c[k] - m[0], c[k + 1] - m[1], c[k + 2] - m[2]));
    // A triangle that is small against the brush has all its dabs in the cube of its middle.
    const near = radius < 0.5 * this.radiusMm ? this.near(m[0], m[1], m[2]) : this.dabsMm;
    return near.some(([x, y, z]) => Math.hypot(m[0] - x, m[1] - y, m[2] - z) < this.radiusMm + radius);
  }

  /** mm inside (positive) or outside the area; never less than minus half a radius. */
  reachInto(x: number, y: number, z: number): number {
    let most = -0.5 * this.radiusMm;
    for (const [u, v, w] of this.near(x, y, z))
      most = Math.max(most, this.radiusMm - Math.hypot(x - u, y - v, z - w));
    return most;
  }

  private near(x: number, y: number, z: number): readonly Vec3[] {
    const { edgeMm } = this;
    const key = `${Math.floor(x / edgeMm)} ${Math.floor(y / edgeMm)} ${Math.floor(z / edgeMm)}`;
    return this.cubes.get(key) ?? [];
  }
}
