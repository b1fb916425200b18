import type { TriMesh } from '../mesh/TriMesh.ts';
import { newClosestPoint, SurfaceTree } from './SurfaceTree.ts';
import type { WindingTree } from './WindingTree.ts';

/** Signed distance (outside positive), the unit direction in which it grows, and the nearest triangle. */
export interface DistanceSample {
  readonly phi: number;
  readonly gx: number;
  readonly gy: number;
  readonly gz: number;
  readonly tri: number;
}

/** Points closer than the inverse of this are the same point: lattice arithmetic differs in its last bits. */
const KEYS_PER_MM = 1e4;

/**
 * Exact signed distance at single points, for places too far out for the band. Remembers every answer by its coordinates:
 * a caller on a fixed lattice pays once a point. About 10 microseconds a new point.
 */
export class OutsideDistance {
  private readonly tree: SurfaceTree;
  private readonly known = new Map<string, DistanceSample>();
  private readonly hit = newClosestPoint();

  /** @param surface S alone, without a base cap. */
  constructor(
    surface: TriMesh,
    private readonly winding: WindingTree,
  ) {
    this.tree = new SurfaceTree(surface);
  }

  at(x: number, y: number, z: number): DistanceSample {
    const key = `${Math.round(x * KEYS_PER_MM)},${Math.round(y * KEYS_PER_MM)},${Math.round(z * KEYS_PER_MM)}`;
    let sample = this.known.get(key);
    if (sample === undefined) {
      sample = this.measure(x, y, z);
      this.known.set(key, sample);
    }
    return sample;
  }

  private measure(x: number, y: number, z: number): DistanceSample {
    const { hit } = this;
    this.tree.closestPoint(x, y, z, hit);
    const sign = this.winding.windingNumber(x, y, z) > 0.5 ? -1 : 1;
    const inverse = hit.distance > 0 ? sign / hit.distance : 0;
    return {
      phi: sign * hit.distance,
      gx: inverse === 0 ? 0 : (x - hit.point[0]) * inverse,
      gy: inverse === 0 ? 0 : (y - hit.point[1]) * inverse,
      gz: inverse === 0 ? 1 : (z - hit.point[2]) * inverse,
      tri: hit.tri,
    };
  }
}
