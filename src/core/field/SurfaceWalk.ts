import type { BandGrid } from './BandGrid.ts';
import { CORNER, closestOnCorners, EDGE, FACE } from './closestOnTriangle.ts';
import { OPEN_SIDE, type OrderedSurface, SIDES, TRI_STRIDE } from './OrderedSurface.ts';

/** Steps of the walk over the mesh before it is taken to be caught in rounding; real walks need under ten. */
const MOST_STEPS = 256;

/** Corners round a vertex before its fan is taken to be broken. */
const MOST_FAN = 4096;

/** Samples are Float32: one that lies this little beyond a plane, in cell edges, may lie on it. */
const ROUNDING_CELLS = 1e-4;

/** Numbers of a nearest point: x y z, squared distance. */
const POINT = 4;

/**
 * Walks over the mesh to a local least of the distance: across the edge or round the corner that holds the nearest point,
 * until no neighbouring triangle is nearer. Scratch belongs to the instance.
 */
export class SurfaceWalk {
  /** The triangle in which the last walk ended, in the surface's own order. */
  tri = -1;
  private part = FACE;
  private best = new Float64Array(POINT);
  private trial = new Float64Array(POINT);
  private readonly plane = new Float64Array(4);
  private readonly from = new Float64Array(3);
  private readonly normal = new Float64Array(3);

  constructor(private readonly surface: OrderedSurface) {}

  /** Of the last walk's nearest point, mm. */
  distance(): number {
    return Math.sqrt(this.best[3]);
  }

  /** The distance, mm, negative for a point behind the surface as its nearest face, edge or corner has it. */
  signedDistance(): number {
    return this.isBehind() ? -this.distance() : this.distance();
  }

  /** The nearest point found, x y z in elements 0..2. The next walk overwrites it. */
  point(): Float64Array {
    return this.best;
  }

  /** From triangle `start` to the nearest one that a descent over edges and corners reaches. */
  run(start: number, x: number, y: number, z: number): void {
    const { positions, tris } = this.surface;
    const at = start * TRI_STRIDE;
    this.from[0] = x;
    this.from[1] = y;
    this.from[2] = z;
    this.tri = start;
    this.part = closestOnCorners(positions, tris[at], tris[at + 1], tris[at + 2], x, y, z, this.best);
    this.descend(x, y, z);
  }

  /** Goes on from another triangle if that holds a nearer point than the last walk's, and says whether it did. */
  consider(tri: number): boolean {
    const { from } = this;
    if (tri === this.tri || !this.tryTri(tri, from[0], from[1], from[2])) return false;
    this.descend(from[0], from[1], from[2]);
    return true;
  }

  /**
   * The plane through the last walk's nearest point, square to the way there, in cell edges as samples are: points with
   * x p[0] + y p[1] + z p[2] > p[3] lie beyond it, on the side of the point that was walked for.
   */
  tangentPlane(grid: BandGrid): Float64Array {
    const { from, best, plane } = this;
    const { origin, cellMm } = grid;
    const perMm = 1 / cellMm;
    const x = (best[0] - origin[0]) * perMm - 0.5;
    const y = (best[1] - origin[1]) * perMm - 0.5;
    const z = (best[2] - origin[2]) * perMm - 0.5;
    plane[0] = (from[0] - best[0]) * perMm;
    plane[1] = (from[1] - best[1]) * perMm;
    plane[2] = (from[2] - best[2]) * perMm;
    const length2 = plane[0] * plane[0] + plane[1] * plane[1] + plane[2] * plane[2];
    plane[3] = plane[0] * x + plane[1] * y + plane[2] * z + ROUNDING_CELLS * Math.sqrt(length2);
    return plane;
  }

  private descend(x: number, y: number, z: number): void {
    for (let step = 0; step < MOST_STEPS && this.part !== FACE; step++) {
      const moved =
        this.part >= EDGE
          ? this.crossEdge(this.part - EDGE, x, y, z)
          : this.turnRound(this.part - CORNER, x, y, z);
      if (!moved) break;
    }
  }

  /** Whether the triangle across holds a nearer point; then it is the walk's. */
  private crossEdge(side: number, x: number, y: number, z: number): boolean {
    const across = this.surface.tris[this.tri * TRI_STRIDE + SIDES + side];
    return across >= 0 && this.tryTri(across >> 2, x, y, z);
  }

  /**
   * Whether one of the triangles round a corner holds a nearer point. Of each first the two products are taken that tell
   * whether its nearest point is the corner itself, which it is for most.
   */
  private turnRound(corner: number, x: number, y: number, z: number): boolean {
    const { positions, tris } = this.surface;
    const from = this.tri;
    const v = tris[from * TRI_STRIDE + corner];
    const vx = positions[v];
    const vy = positions[v + 1];
    const vz = positions[v + 2];
    const px = x - vx;
    const py = y - vy;
    const pz = z - vz;
    let tri = from;
    let k = corner;
    let forward = true;
    for (let n = 0; n < MOST_FAN; n++) {
      // Counter-clockwise round the vertex: over the side that runs into it, its twin runs out of it.
      let across = tris[tri * TRI_STRIDE + SIDES + (forward ? (k === 0 ? 2 : k - 1) : k)];
      if (across < 0) {
        if (!forward) break;
        // An open fan: the rest of it lies the other way.
        forward = false;
        across = tris[from * TRI_STRIDE + SIDES + corner];
        if (across < 0) break;
      }
      tri = across >> 2;
      if (tri === from) break;
      k = across & 3;
      if (!forward) k = k === 2 ? 0 : k + 1;
      const at = tri * TRI_STRIDE;
      const a = tris[at + (k === 2 ? 0 : k + 1)];
      const b = tris[at + (k === 0 ? 2 : k - 1)];
      if (
        (positions[a] - vx) * px + (positions[a + 1] - vy) * py + (positions[a + 2] - vz) * pz > 0 ||
        (positions[b] - vx) * px + (positions[b + 1] - vy) * py + (positions[b + 2] - vz) * pz > 0
      ) {
        this.tryTri(tri, x, y, z);
      }
    }
    return this.tri !== from;
  }

  private tryTri(tri: number, x: number, y: number, z: number): boolean {
    const { positions, tris } = this.surface;
    const at = tri * TRI_STRIDE;
    const { trial, best } = this;
    const part = closestOnCorners(positions, tris[at], tris[at + 1], tris[at + 2], x, y, z, trial);
    if (trial[3] >= best[3]) return false;
    this.best = trial;
    this.trial = best;
    this.tri = tri;
    this.part = part;
    return true;
  }

  /**
   * Whether the point of the last walk lies behind the surface: by the normal of the face, the sum of
   * the two faces' at an edge, the sum weighted by angle at a corner.
   * Source: J. A. Baerentzen and H. Aanaes, Signed distance computation using the angle weighted pseudonormal, 2005.
   */
  private isBehind(): boolean {
    const { normal, best, part, tri, from } = this;
    normal.fill(0);
    if (part >= EDGE) {
      const across = this.surface.tris[tri * TRI_STRIDE + SIDES + part - EDGE];
      this.addNormal(tri, -1);
      if (across >= 0) this.addNormal(across >> 2, -1);
    } else if (part === FACE) {
      this.addNormal(tri, -1);
    } else {
      this.addFan(tri, part - CORNER);
    }
    return (
      normal[0] * (from[0] - best[0]) + normal[1] * (from[1] - best[1]) + normal[2] * (from[2] - best[2]) < 0
    );
  }

  /** Whether the nearest point lies on an open border that is not on the board (z up to the tolerance). */
  isOnRim(standsOnBoard: boolean, boardToleranceMm: number): boolean {
    const { part, tri } = this;
    if (part === FACE || (standsOnBoard && this.best[2] <= boardToleranceMm)) return false;
    const { tris } = this.surface;
    if (part >= EDGE) return tris[tri * TRI_STRIDE + SIDES + part - EDGE] === OPEN_SIDE;
    return isOpenFan(this.surface, tri, part - CORNER);
  }

  private addFan(from: number, corner: number): void {
    const { tris } = this.surface;
    let tri = from;
    let k = corner;
    let forward = true;
    this.addNormal(from, corner);
    for (let n = 0; n < MOST_FAN; n++) {
      let across = tris[tri * TRI_STRIDE + SIDES + (forward ? (k === 0 ? 2 : k - 1) : k)];
      if (across < 0) {
        if (!forward) return;
        forward = false;
        across = tris[from * TRI_STRIDE + SIDES + corner];
        if (across < 0) return;
      }
      tri = across >> 2;
      if (tri === from) return;
      k = across & 3;
      if (!forward) k = k === 2 ? 0 : k + 1;
      this.addNormal(tri, k);
    }
  }

  /** Adds a face's unit normal, times its angle at `corner` when that is not -1. */
  private addNormal(tri: number, corner: number): void {
    const { positions: p, tris } = this.surface;
    const { normal } = this;
    const at = tri * TRI_STRIDE;
    const k = Math.max(corner, 0);
    const a = tris[at + k];
    const b = tris[at + ((k + 1) % 3)];
    const c = tris[at + ((k + 2) % 3)];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(length > 0)) return;
    const weight = (corner < 0 ? 1 : Math.atan2(length, ux * vx + uy * vy + uz * vz)) / length;
    normal[0] += nx * weight;
    normal[1] += ny * weight;
    normal[2] += nz * weight;
  }
}

/** Whether the triangles round a corner end at an open side. */
export function isOpenFan(surface: OrderedSurface, from: number, corner: number): boolean {
  const { tris } = surface;
  let tri = from;
  let k = corner;
  for (let n = 0; n < MOST_FAN; n++) {
    const across = tris[tri * TRI_STRIDE + SIDES + (k === 0 ? 2 : k - 1)];
    if (across === OPEN_SIDE) return true;
    if (across < 0) break;
    tri = across >> 2;
    if (tri === from) return false;
    k = across & 3;
  }
  // The fan ended at the board's face: the other way round.
  tri = from;
  k = corner;
  for (let n = 0; n < MOST_FAN; n++) {
    const across = tris[tri * TRI_STRIDE + SIDES + k];
    if (across === OPEN_SIDE) return true;
    if (across < 0) return false;
    tri = across >> 2;
    k = (across & 3) === 2 ? 0 : (across & 3) + 1;
  }
  return false;
}
