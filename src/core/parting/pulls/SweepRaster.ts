import type { TriMesh } from '../../mesh/TriMesh.ts';
import { vectorLength } from '../../mesh/vectorLength.ts';
import type { PullFrame } from '../undercut/PullFrame.ts';
import { measureFaces } from './FaceMeasures.ts';

/** A body is this many pixels long from corner to corner of its box, whatever the direction. */
const PIXELS_ACROSS = 192;

/** Pixels to the side of a block; the lowest height of each block tells at once that nothing in it is low enough. */
const BLOCK = 8;

/**
 * What overtops a facing face does so by more than this many pixels times its steepness and half a pixel more, at the
 * pixel's centre; less may be the face's own surroundings, which are not flat over a pixel.
 */
const BIAS_PIXELS = 0.25;

/** The same for a corner, whose own slope is not known: that of a wall of 56 degrees. */
const CORNER_BIAS_PIXELS = 2;

/** A point has room beside it where the rubber's top is no more than this share of a pixel above it: rounding, level faces. */
const LEVEL_PIXELS = 0.1;

/** The nearest clear pixel's centre lies on average half a pixel beyond the edge of what is clear. */
const EDGE_PIXELS = 0.5;

/** Below this cosine to the pull a face counts as facing away; less is rounding in walls without draft. */
const AWAY_COSINE = 1e-4;

/** A wall steeper than this counts as this steep where heights are compared: 89 degrees. */
const LEAST_COSINE = 0.017;

/**
 * Looks at one mesh along many directions, with all buffers made once: which faces a pull does not clear and how deep
 * they lock.
 *
 * Two height maps a direction, each by the triangles that can matter in it: `top`, of faces towards the pull, is where a
 * straight way out begins; `back`, of faces away from it, is what a point outside the rubber meets on its way. A face never
 * overtops itself that way (undercut/hideFaces.ts has the same thought).
 */
export class SweepRaster {
  readonly pixelMm: number;
  private readonly width: number;
  private readonly blocksAcross: number;
  private readonly top: Float32Array;
  private readonly back: Float32Array;
  private readonly lowest: Float32Array;
  private readonly u: Float64Array;
  private readonly v: Float64Array;
  private readonly h: Float64Array;
  /** By vertex, of the present direction: 1 where a face that faces away meets it, 2 once its depth is known. */
  private readonly isAsked: Uint8Array;
  private readonly vertDepth: Float32Array;
  /** By vertex that was measured: the nearest clear pixel, or -1. */
  private readonly vertClear: Int32Array;
  /** By face: unit normal, zero for a face without area. */
  private readonly normals: Float64Array;
  /** Points spread over faces of many pixels, behind the vertices; those of face t from extraFrom[t] to extraFrom[t + 1]. */
  private readonly points: Float64Array;
  private readonly extraFrom: Int32Array;
  /** Lowest row of the map over the board, for a point at height 0 along the pull, and what it falls by with the height. */
  private boardRow = -Infinity;
  private boardSlope = 0;
  private rows = 0;
  private columns = 0;
  /** A pixel that is likely to be clear near the next point; after a search the one that was found. */
  private clear = -1;

  /** @param standsOnBoard nothing gets away through the plane z = 0. */
  constructor(
    private readonly mesh: TriMesh,
    private readonly standsOnBoard: boolean,
  ) {
    const { positions } = mesh;
    this.pixelMm = Math.max(diagonalOf(positions), Number.MIN_VALUE) / PIXELS_ACROSS;
    // One pixel of margin all round, and whole blocks.
    this.width = BLOCK * Math.ceil((PIXELS_ACROSS + 4) / BLOCK);
    this.blocksAcross = this.width / BLOCK;
    this.top = new Float32Array(this.width * this.width);
    this.back = new Float32Array(this.width * this.width);
    this.lowest = new Float32Array(this.blocksAcross * this.blocksAcross);
    const extra = spreadPoints(mesh, POINT_PIXELS * this.pixelMm);
    this.points = new Float64Array(positions.length + extra.points.length);
    this.points.set(positions);
    this.points.set(extra.points, positions.length);
    this.extraFrom = extra.from;
    const verts = this.points.length / 3;
    this.u = new Float64Array(verts);
    this.v = new Float64Array(verts);
    this.h = new Float64Array(verts);
    this.isAsked = new Uint8Array(verts);
    this.vertDepth = new Float32Array(verts);
    this.vertClear = new Int32Array(verts);
    this.normals = measureFaces(mesh).normals;
  }

  /**
   * Writes for every face whether the pull along `frame.d` leaves it hidden (1: it faces away, or rubber stands over its
   * middle) and how deep it locks, mm: the mean over its corners of the least shift square to the pull after which a
   * straight way out is free, read off the pixels; within about two pixels, 0 where the face is free. Of a face of many
   * pixels the deepest of points spread over it, if that is more.
   */
  look(frame: PullFrame, hidden: Uint8Array, depthMm: Float32Array): void {
    this.project(frame);
    this.draw(frame);
    this.findLowest();
    this.hideFaces(frame, hidden);
    this.measureVerts(hidden);
    const { indices, positions } = this.mesh;
    const { vertDepth, extraFrom } = this;
    const extra = positions.length / 3;
    for (let t = 0, at = 0; t < hidden.length; t++, at += 3) {
      if (!hidden[t]) {
        depthMm[t] = 0;
        continue;
      }
      let depth = (vertDepth[indices[at]] + vertDepth[indices[at + 1]] + vertDepth[indices[at + 2]]) / 3;
      for (let i = extra + extraFrom[t]; i < extra + extraFrom[t + 1]; i++) {
        if (vertDepth[i] > depth) depth = vertDepth[i];
      }
      depthMm[t] = depth;
    }
  }

  /** Vertices in pixels: u and v from the map's corner, h along the pull. */
  private project(frame: PullFrame): void {
    const { u, v, h, points: positions } = this;
    const scale = 1 / this.pixelMm;
    const ux = frame.u[0] * scale;
    const uy = frame.u[1] * scale;
    const uz = frame.u[2] * scale;
    const vx = frame.v[0] * scale;
    const vy = frame.v[1] * scale;
    const vz = frame.v[2] * scale;
    const dx = frame.d[0] * scale;
    const dy = frame.d[1] * scale;
    const dz = frame.d[2] * scale;
    let uMin = Infinity;
    let uMax = -Infinity;
    let vMin = Infinity;
    let vMax = -Infinity;
    for (let i = 0, at = 0; i < u.length; i++, at += 3) {
      const x = positions[at];
      const y = positions[at + 1];
      const z = positions[at + 2];
      const pu = x * ux + y * uy + z * uz;
      const pv = x * vx + y * vy + z * vz;
      u[i] = pu;
      v[i] = pv;
      h[i] = x * dx + y * dy + z * dz;
      if (pu < uMin) uMin = pu;
      if (pu > uMax) uMax = pu;
      if (pv < vMin) vMin = pv;
      if (pv > vMax) vMax = pv;
    }
    const uFrom = uMin - 1;
    const vFrom = vMin - 1;
    for (let i = 0; i < u.length; i++) {
      u[i] -= uFrom;
      v[i] -= vFrom;
    }
    // Over the board z = row * frame.v.z + height * frame.d.z is not below 0 (u lies level); looked at from above, nothing is.
    const leans = this.standsOnBoard && frame.v[2] > LEAST_COSINE;
    this.boardRow = leans ? -vFrom : -Infinity;
    this.boardSlope = leans ? frame.d[2] / frame.v[2] : 0;
    this.columns = Math.min(this.width, BLOCK * Math.ceil((uMax - uFrom + 1) / BLOCK));
    this.rows = Math.min(this.width, BLOCK * Math.ceil((vMax - vFrom + 1) / BLOCK));
  }

  /** Faces towards the pull into `top`, those away from it into `back`, both exact at the pixels' centres. */
  private draw(frame: PullFrame): void {
    const { indices } = this.mesh;
    const { u, v, h, width, top, back, normals } = this;
    top.fill(-Infinity, 0, this.rows * width);
    back.fill(-Infinity, 0, this.rows * width);
    const [dx, dy, dz] = frame.d;
    for (let at = 0; at < indices.length; at += 3) {
      const towards = normals[at] * dx + normals[at + 1] * dy + normals[at + 2] * dz;
      const map = towards > 0 ? top : back;
      const a = indices[at];
      const b = indices[at + 1];
      const c = indices[at + 2];
      const ax = u[a];
      const ay = v[a];
      const ah = h[a];
      const e1x = u[b] - ax;
      const e1y = v[b] - ay;
      const e2x = u[c] - ax;
      const e2y = v[c] - ay;
      const loX = Math.min(0, e1x, e2x);
      const hiX = Math.max(0, e1x, e2x);
      const loY = Math.min(0, e1y, e2y);
      const hiY = Math.max(0, e1y, e2y);
      const i0 = Math.ceil(ax + loX - 0.5);
      const i1 = Math.floor(ax + hiX - 0.5);
      const j0 = Math.ceil(ay + loY - 0.5);
      const j1 = Math.floor(ay + hiY - 0.5);
      const area = e1x * e2y - e1y * e2x;
      if (i0 > i1 || j0 > j1 || area === 0) continue;
      // Weights of b and c at a centre are linear in it, and so is the height.
      const inv = 1 / area;
      const bx = e2y * inv;
      const by = -e2x * inv;
      const cx = -e1y * inv;
      const cy = e1x * inv;
      const bh = h[b] - ah;
      const ch = h[c] - ah;
      for (let j = j0; j <= j1; j++) {
        const y = j + 0.5 - ay;
        const row = j * width;
        let wb = bx * (i0 + 0.5 - ax) + by * y;
        let wc = cx * (i0 + 0.5 - ax) + cy * y;
        for (let i = i0; i <= i1; i++, wb += bx, wc += cx) {
          if (wb < -CRACK || wc < -CRACK || wb + wc > 1 + CRACK) continue;
          const z = ah + wb * bh + wc * ch;
          if (z > map[row + i]) map[row + i] = z;
        }
      }
    }
  }

  /** By block of pixels the lowest top, so that a search can pass over blocks. */
  private findLowest(): void {
    const { top, lowest, width, blocksAcross, rows, columns } = this;
    for (let bj = 0; bj < rows / BLOCK; bj++) {
      for (let bi = 0; bi < columns / BLOCK; bi++) {
        let low = Infinity;
        for (let j = 0; j < BLOCK; j++) {
          const from = (bj * BLOCK + j) * width + bi * BLOCK;
          for (let i = from; i < from + BLOCK; i++) if (top[i] < low) low = top[i];
        }
        lowest[bj * blocksAcross + bi] = low;
      }
    }
  }

  private hideFaces(frame: PullFrame, hidden: Uint8Array): void {
    const { indices } = this.mesh;
    const { u, v, h, width, back, normals, isAsked } = this;
    const [ux, uy, uz] = frame.u;
    const [vx, vy, vz] = frame.v;
    const [dx, dy, dz] = frame.d;
    isAsked.fill(0);
    for (let t = 0, at = 0; t < hidden.length; t++, at += 3) {
      const a = indices[at];
      const b = indices[at + 1];
      const c = indices[at + 2];
      const towards = normals[at] * dx + normals[at + 1] * dy + normals[at + 2] * dz;
      if (towards < -AWAY_COSINE) {
        hidden[t] = 1;
        isAsked[a] = 1;
        isAsked[b] = 1;
        isAsked[c] = 1;
        continue;
      }
      const x = (u[a] + u[b] + u[c]) / 3;
      const y = (v[a] + v[b] + v[c]) / 3;
      const i = x | 0;
      const j = y | 0;
      const above = back[j * width + i] - (h[a] + h[b] + h[c]) / 3;
      // A wall without draft is shallow in any case: what stands over it stands over its foot.
      const steep = Math.max(towards, LEAST_COSINE);
      // The face's own plane rises from its middle to the pixel's centre by this much times `steep`.
      const rise =
        -(i + 0.5 - x) * (normals[at] * ux + normals[at + 1] * uy + normals[at + 2] * uz) -
        (j + 0.5 - y) * (normals[at] * vx + normals[at + 1] * vy + normals[at + 2] * vz);
      const bias = 0.5 * steep + BIAS_PIXELS * Math.sqrt(1 - towards * towards);
      hidden[t] = above * steep > rise + bias ? 1 : 0;
    }
  }

  /** Depths of the corners of hidden faces. */
  private measureVerts(hidden: Uint8Array): void {
    const { indices, positions } = this.mesh;
    const { isAsked, vertDepth, vertClear, h, u, v, back, width, pixelMm, extraFrom } = this;
    const extra = positions.length / 3;
    this.clear = -1;
    for (let t = 0, at = 0; t < hidden.length; t++, at += 3) {
      if (!hidden[t]) continue;
      // What was nearest to another corner of the face is near to this one, and bounds the search.
      for (let k = 0; k < 3; k++) {
        const vert = indices[at + k];
        if (isAsked[vert] === MEASURED && vertClear[vert] >= 0) this.clear = vertClear[vert];
      }
      for (let k = 0; k < 3; k++) {
        const vert = indices[at + k];
        if (isAsked[vert] === MEASURED) continue;
        // A corner that no face looks away from may stand clear of what hides the rest of its face.
        const isFree =
          isAsked[vert] === 0 &&
          !(back[(v[vert] | 0) * width + (u[vert] | 0)] - h[vert] > CORNER_BIAS_PIXELS);
        vertDepth[vert] = isFree ? 0 : pixelMm * this.depthPixels(u[vert], v[vert], h[vert] + LEVEL_PIXELS);
        vertClear[vert] = isFree ? -1 : this.clear;
        isAsked[vert] = MEASURED;
      }
      for (let i = extra + extraFrom[t]; i < extra + extraFrom[t + 1]; i++) {
        vertDepth[i] = pixelMm * this.depthPixels(u[i], v[i], h[i] + LEVEL_PIXELS);
      }
    }
  }

  /** Distance from x, y to the nearest pixel whose top is not above `limit`, less half a pixel; all is clear off the map. */
  private depthPixels(x: number, y: number, limit: number): number {
    const { top, lowest, width, blocksAcross } = this;
    const across = this.columns / BLOCK;
    const down = this.rows / BLOCK;
    // A way out has to stay over the board: rows below this one are none.
    const floor = Math.max(0, Math.ceil(this.boardRow - this.boardSlope * limit - EDGE_PIXELS));
    const toBorder = Math.min(x, this.columns - x, floor > 0 ? Infinity : y, this.rows - y) + EDGE_PIXELS;
    let best = toBorder * toBorder;
    const last = this.clear;
    if (last >= floor * width && top[last] <= limit) {
      const ex = (last % width) + 0.5 - x;
      const ey = ((last / width) | 0) + 0.5 - y;
      best = Math.min(best, ex * ex + ey * ey);
    }
    // Rows of blocks from the nearest outward, each as far as the circle of the best so far cuts it.
    const by = (y / BLOCK) | 0;
    const reach = (Math.sqrt(best) / BLOCK + 1) | 0;
    for (let side = 0; side <= 2 * reach; side++) {
      // Rows by turns above and below: 0, 1, -1, 2, -2, ...
      const bj = by + (side & 1 ? (side + 1) >> 1 : -(side >> 1));
      if (bj < 0 || bj >= down) continue;
      const py = bj * BLOCK;
      const ey = y < py + 0.5 ? py + 0.5 - y : y > py + BLOCK - 0.5 ? y - py - BLOCK + 0.5 : 0;
      const chord2 = best - ey * ey;
      if (chord2 <= 0) continue;
      const chord = Math.sqrt(chord2);
      const first = Math.max(0, ((x - chord - 0.5) / BLOCK) | 0);
      const final = Math.min(across - 1, ((x + chord - 0.5) / BLOCK) | 0);
      const row = bj * blocksAcross;
      for (let bi = first; bi <= final; bi++) {
        if (lowest[row + bi] > limit) continue;
        const px = bi * BLOCK;
        const ex = x < px + 0.5 ? px + 0.5 - x : x > px + BLOCK - 0.5 ? x - px - BLOCK + 0.5 : 0;
        if (ex * ex + ey * ey >= best) continue;
        for (let j = Math.max(py, floor); j < py + BLOCK; j++) {
          const fy = j + 0.5 - y;
          const rest = best - fy * fy;
          if (rest <= 0 || ex * ex >= rest) continue;
          const from = j * width;
          for (let i = px; i < px + BLOCK; i++) {
            if (top[from + i] > limit) continue;
            const fx = i + 0.5 - x;
            const d2 = fx * fx + fy * fy;
            if (d2 < best) {
              best = d2;
              this.clear = j * width + i;
            }
          }
        }
      }
    }
    return Math.max(0, Math.sqrt(best) - EDGE_PIXELS);
  }
}

/** Mark of a corner whose depth is known, in isAsked. */
const MEASURED = 2;

/** Points spread over a large face stand this many pixels apart. */
const POINT_PIXELS = 16;

/** A centre outside a triangle by less than this share of its area counts as inside, so that rounding leaves no crack. */
const CRACK = 1e-9;

/**
 * Points spread evenly over faces with a side longer than `spacingMm`, so that none is looked at by its corners alone.
 * `from` of face t: number of its first point; one entry more than faces.
 */
function spreadPoints(mesh: TriMesh, spacingMm: number): { points: Float64Array; from: Int32Array } {
  const { positions: p, indices } = mesh;
  const count = indices.length / 3;
  const from = new Int32Array(count + 1);
  const points: number[] = [];
  for (let t = 0; t < count; t++) {
    const a = 3 * indices[3 * t];
    const b = 3 * indices[3 * t + 1];
    const c = 3 * indices[3 * t + 2];
    const ab = vectorLength(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
    const bc = vectorLength(p[c] - p[b], p[c + 1] - p[b + 1], p[c + 2] - p[b + 2]);
    const ca = vectorLength(p[a] - p[c], p[a + 1] - p[c + 1], p[a + 2] - p[c + 2]);
    const parts = Math.ceil(Math.max(ab, bc, ca) / spacingMm);
    // The middles of the small triangles that stand upright in the divided face.
    for (let i = 0; parts > 1 && i < parts; i++) {
      for (let j = 0; j < parts - i; j++) {
        const wb = (i + 1 / 3) / parts;
        const wc = (j + 1 / 3) / parts;
        for (let k = 0; k < 3; k++) {
          points.push(p[a + k] + wb * (p[b + k] - p[a + k]) + wc * (p[c + k] - p[a + k]));
        }
      }
    }
    from[t + 1] = points.length / 3;
  }
  return { points: Float64Array.from(points), from };
}

function diagonalOf(positions: Float64Array): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const k = i % 3;
    if (positions[i] < min[k]) min[k] = positions[i];
    if (positions[i] > max[k]) max[k] = positions[i];
  }
  return vectorLength(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}
