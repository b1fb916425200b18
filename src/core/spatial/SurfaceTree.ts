import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { type HitPointInfo, MeshBVH } from 'three-mesh-bvh';
import type { TriMesh } from '../mesh/TriMesh.ts';

/** Filled in by `closestPoint`: the nearest surface point, its triangle and its distance (never negative), mm. */
export interface ClosestPoint {
  readonly point: Float64Array;
  tri: number;
  distance: number;
}

export const newClosestPoint = (): ClosestPoint => ({ point: new Float64Array(3), tri: -1, distance: 0 });

/** Where a ray first meets the surface. */
export interface SurfaceRayHit {
  readonly tri: number;
  readonly distance: number;
  readonly point: readonly [number, number, number];
}

/**
 * Exact nearest-point and ray queries on a mesh: a bounding-volume hierarchy by three-mesh-bvh.
 *
 * Cost: build 0.05 s for 100 000 triangles; about 5-20 microseconds a query. The triangle order of the mesh is kept, so
 * `tri` indexes it. Not for use by two callers at once: scratch belongs to the instance.
 */
export class SurfaceTree {
  private readonly bvh: MeshBVH;
  private readonly query = new Vector3();
  private readonly hit: HitPointInfo = { point: new Vector3(), distance: 0, faceIndex: 0 };

  constructor(mesh: TriMesh) {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
    geometry.setIndex(new BufferAttribute(mesh.indices, 1));
    this.bvh = new MeshBVH(geometry, { indirect: true, targetLeafSize: 8 });
  }

  /** The surface point nearest to x y z. On ties any of the nearest. */
  closestPoint(x: number, y: number, z: number, out: ClosestPoint): void {
    const found = this.bvh.closestPointToPoint(this.query.set(x, y, z), this.hit);
    if (found === null) throw new Error('closestPoint: the tree holds no triangle');
    out.point[0] = found.point.x;
    out.point[1] = found.point.y;
    out.point[2] = found.point.z;
    out.tri = found.faceIndex;
    out.distance = found.distance;
  }

  /** First hit of the ray from `origin` along `direction` (unit), from either side; null when it misses. */
  firstHit(
    origin: readonly [number, number, number],
    direction: readonly [number, number, number],
  ): SurfaceRayHit | null {
    const ray = new Ray(new Vector3(...origin), new Vector3(...direction));
    const hit = this.bvh.raycastFirst(ray, DoubleSide);
    if (!hit || hit.faceIndex === undefined || hit.faceIndex === null) return null;
    return { tri: hit.faceIndex, distance: hit.distance, point: [hit.point.x, hit.point.y, hit.point.z] };
  }
}
