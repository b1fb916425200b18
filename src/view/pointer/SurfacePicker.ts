import { BufferAttribute, BufferGeometry, DoubleSide, Ray } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { RubberPicture, SectionPlane } from '../../jobs/protocol.ts';
import type { SurfaceHit } from '../viewTypes.ts';

/** What a ray meets first: the rubber's surface, or (while a section is on) the face of the cut, which has no triangle. */
export interface RayHit {
  /** Distance from the ray's origin, mm. */
  readonly distanceMm: number;
  /** Null on the face of the cut. */
  readonly surface: SurfaceHit | null;
}

/** A surface and the worker's tree over it. */
export type PickSurface = Pick<RubberPicture, 'positions' | 'indices' | 'tree'>;

/** Finds where a ray meets the rubber, by a tree that the worker built; answers in well under a millisecond. */
export class SurfacePicker {
  private tree: MeshBVH | null = null;
  private plane: SectionPlane | null = null;
  private readonly ray = new Ray();

  setSurface(surface: PickSurface | null): void {
    this.tree = null;
    if (surface === null || surface.indices.length === 0) return;
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(surface.positions, 3));
    geometry.setIndex(new BufferAttribute(surface.indices, 1));
    this.tree = MeshBVH.deserialize(surface.tree, geometry, { setIndex: false });
  }

  /** What lies on the side the plane's normal points to is not there; null: all is there. */
  setCut(plane: SectionPlane | null): void {
    this.plane = plane;
  }

  /** True when the point is on the side that the section took away. */
  isCutAway(point: Vec3): boolean {
    return this.plane !== null && heightOver(this.plane, point) > 0;
  }

  get isReady(): boolean {
    return this.tree !== null;
  }

  /** First meeting from either side, or null. `direction` must be unit. */
  pick(origin: Vec3, direction: Vec3): RayHit | null {
    if (this.tree === null) return null;
    const skippedMm = this.distanceToKept(origin, direction);
    if (skippedMm === Infinity) return null;
    this.ray.origin.set(
      origin[0] + direction[0] * skippedMm,
      origin[1] + direction[1] * skippedMm,
      origin[2] + direction[2] * skippedMm,
    );
    this.ray.direction.set(direction[0], direction[1], direction[2]);
    const hit = this.tree.raycastFirst(this.ray, DoubleSide);
    if (!hit || hit.faceIndex === undefined || hit.faceIndex === null) return null;
    // From the cut onward the ray began within the body if it meets the wall from inside.
    if (skippedMm > 0 && hit.face && this.ray.direction.dot(hit.face.normal) > 0) {
      return { distanceMm: skippedMm, surface: null };
    }
    const point: Vec3 = [hit.point.x, hit.point.y, hit.point.z];
    if (this.isCutAway(point)) return null;
    return { distanceMm: skippedMm + hit.distance, surface: { point, tri: hit.faceIndex } };
  }

  /** How far the ray runs through what was taken away; Infinity when it never leaves it. */
  private distanceToKept(origin: Vec3, direction: Vec3): number {
    if (this.plane === null) return 0;
    const height = heightOver(this.plane, origin);
    if (height <= 0) return 0;
    const { normal } = this.plane;
    const fall = -(normal[0] * direction[0] + normal[1] * direction[1] + normal[2] * direction[2]);
    return fall > 0 ? height / fall : Infinity;
  }
}

function heightOver({ normal, offsetMm }: SectionPlane, [x, y, z]: Vec3): number {
  return normal[0] * x + normal[1] * y + normal[2] * z - offsetMm;
}
