import type { TriMesh } from '../mesh/TriMesh.ts';

/** Across a side: nothing. */
export const OPEN_SIDE = -1;
/** Across a side: a triangle that is not part of S (the face that stands on the board). */
export const CAP_SIDE = -2;

/**
 * The triangles of S with their neighbours, renumbered so that what lies together in space lies together in memory: every
 * loop over the band's cells visits the surface bit by bit, and where the surface lies scattered in memory it waits for
 * that and not for the arithmetic.
 *
 * Half-edge 4 * tri + side runs from corner `side` to corner (side + 1) % 3.
 */
export interface OrderedSurface {
  readonly triCount: number;
  readonly areaMm2: number;
  /** vertCount x 3, mm. */
  readonly positions: Float64Array;
  /**
   * triCount x TRI_STRIDE: [corner 0, corner 1, corner 2, unused, across 0, across 1, across 2, unused]. A corner is the
   * index of its x in `positions`; `across` the opposite half-edge, or OPEN_SIDE or CAP_SIDE.
   */
  readonly tris: Int32Array;
  /** triCount: number of the triangle in the mesh it was made from. */
  readonly ids: Uint32Array;
}

export const TRI_STRIDE = 8;
/** Where the sides begin in a triangle's eight numbers. */
export const SIDES = 4;

/** Most bits a coordinate of the space order: 64 bins along the longest side, some hundred triangles a bin for a million. */
const MOST_ORDER_BITS = 6;
/** A surface fills about the square of the bins along a side; so many triangles a bin are near enough to one another. */
const TRIS_PER_BIN = 8;

/** O(n): bins along a Z curve (Morton, 1966), counted and dealt out; vertices in order of their first use. */
export function orderSurface(mesh: TriMesh, twins: Int32Array, isSurface: Uint8Array): OrderedSurface {
  const ids = inSpaceOrder(mesh, isSurface);
  const { indices } = mesh;
  const triCount = ids.length;
  const placeOf = new Int32Array(isSurface.length).fill(-1);
  for (let t = 0; t < triCount; t++) placeOf[ids[t]] = t;
  const vertOf = new Int32Array(mesh.positions.length / 3).fill(-1);
  const tris = new Int32Array(triCount * TRI_STRIDE);
  const positions = new Float64Array(mesh.positions.length);
  let next = 0;
  let twiceArea = 0;
  for (let t = 0; t < triCount; t++) {
    const from = 3 * ids[t];
    const at = t * TRI_STRIDE;
    for (let k = 0; k < 3; k++) {
      const vert = indices[from + k];
      let own = vertOf[vert];
      if (own < 0) {
        own = next;
        vertOf[vert] = own;
        positions[own] = mesh.positions[3 * vert];
        positions[own + 1] = mesh.positions[3 * vert + 1];
        positions[own + 2] = mesh.positions[3 * vert + 2];
        next += 3;
      }
      tris[at + k] = own;
      const twin = twins[from + k];
      if (twin < 0) {
        tris[at + SIDES + k] = OPEN_SIDE;
      } else {
        const other = (twin / 3) | 0;
        const place = placeOf[other];
        tris[at + SIDES + k] = place < 0 ? CAP_SIDE : 4 * place + (twin - 3 * other);
      }
    }
    twiceArea += twiceAreaOf(positions, tris[at], tris[at + 1], tris[at + 2]);
  }
  return { triCount, areaMm2: twiceArea / 2, positions, tris, ids };
}

function twiceAreaOf(p: Float64Array, a: number, b: number, c: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  return Math.sqrt(nx * nx + ny * ny + nz * nz);
}

/** Numbers of the triangles of S, bin after bin. */
function inSpaceOrder(mesh: TriMesh, isSurface: Uint8Array): Uint32Array {
  const { positions: p, indices } = mesh;
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      if (p[i + k] < low[k]) low[k] = p[i + k];
      if (p[i + k] > high[k]) high[k] = p[i + k];
    }
  }
  const bits = Math.max(
    1,
    Math.min(MOST_ORDER_BITS, Math.ceil(Math.log2(isSurface.length / TRIS_PER_BIN) / 2)),
  );
  const binsAlong = 1 << bits;
  const binCount = 1 << (3 * bits);
  const longest = Math.max(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  const perMm = longest > 0 ? (binsAlong * (1 - 1e-9)) / longest : 0;
  const [x0, y0, z0] = low;
  const spread = spreadBits(bits);
  const bins = new Int32Array(isSurface.length);
  const start = new Uint32Array(binCount + 1);
  let count = 0;
  for (let t = 0; t < bins.length; t++) {
    if (isSurface[t] === 0) continue;
    // A corner is as good as the middle: bins are larger than most triangles.
    const a = 3 * indices[3 * t];
    const bin =
      spread[((p[a] - x0) * perMm) | 0] |
      (spread[((p[a + 1] - y0) * perMm) | 0] << 1) |
      (spread[((p[a + 2] - z0) * perMm) | 0] << 2);
    bins[t] = bin;
    start[bin + 1]++;
    count++;
  }
  for (let bin = 0; bin < binCount; bin++) start[bin + 1] += start[bin];
  const ids = new Uint32Array(count);
  for (let t = 0; t < bins.length; t++) {
    if (isSurface[t] !== 0) ids[start[bins[t]]++] = t;
  }
  return ids;
}

/** The numbers of so many bits with their bits set three apart, so that three coordinates interleave. */
function spreadBits(bits: number): Int32Array {
  const spread = new Int32Array(1 << bits);
  for (let n = 0; n < spread.length; n++) {
    for (let bit = 0; bit < bits; bit++) spread[n] |= ((n >> bit) & 1) << (3 * bit);
  }
  return spread;
}
