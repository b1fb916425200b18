import type { KeptSide } from './cutByPlane.ts';
import type { TriMesh, Vec3 } from './TriMesh.ts';

/** Below this much of a level part a normal has no direction seen from above. */
const LEVEL_SHARE = 1e-9;

/**
 * Coordinates in a plane: u, v and the plane's normal make a right-handed frame. Along an axis both are coordinates of the
 * mesh as they stand; in an upright plane v is the height, so that the board stays exactly straight.
 */
export class FlatFrame {
  private readonly axis: number;
  private readonly u: Vec3;
  private readonly v: Vec3;

  constructor(private readonly side: KeptSide) {
    const [nx, ny, nz] = side.normal;
    this.axis = side.normal.findIndex((x) => Math.abs(x) === 1);
    const level = Math.hypot(nx, ny);
    this.u = level > LEVEL_SHARE ? [-ny / level, nx / level, 0] : [1, 0, 0];
    const [ux, uy] = this.u;
    this.v = level > LEVEL_SHARE ? [-nz * uy, nz * ux, nx * uy - ny * ux] : [0, Math.sign(nz), 0];
    if (this.axis >= 0) {
      const first = unit((this.axis + 1) % 3);
      const second = unit((this.axis + 2) % 3);
      [this.u, this.v] = side.normal[this.axis] > 0 ? [first, second] : [second, first];
    }
  }

  /** Places of the mesh's vertices. */
  placeOf({ positions: p }: TriMesh, vert: number): [number, number] {
    const { u, v } = this;
    const x = p[3 * vert];
    const y = p[3 * vert + 1];
    const z = p[3 * vert + 2];
    return [u[0] * x + u[1] * y + u[2] * z, v[0] * x + v[1] * y + v[2] * z];
  }

  /** The point of the plane at a place. */
  pointAt(place: readonly [number, number]): [number, number, number] {
    const { u, v, axis, side } = this;
    const at = (k: number): number => u[k] * place[0] + v[k] * place[1] + side.normal[k] * side.offset;
    const point: [number, number, number] = [at(0), at(1), at(2)];
    if (axis >= 0) point[axis] = side.offset * side.normal[axis] + 0;
    return point;
  }
}

function unit(axis: number): Vec3 {
  return [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];
}
