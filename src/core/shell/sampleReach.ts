import type { Checkpoint } from '../checkpoint.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { SurfaceContext } from '../parting/SurfaceContext.ts';
import { measureReach } from './measureReach.ts';

/**
 * How far out from S its own points stay the nearest ones, tried at spots spread evenly over it.
 *
 * Three kinds of spots, which between them see all that stands over S: on the faces, evenly by area, looking along the
 * normal; on the edges that bend outward, by length times angle, looking somewhere within the wedge that the edge opens; and
 * on the vertices, looking somewhere within a cone round the normal (most see a neighbour nearer than themselves: reach 0).
 */
export interface ReachSamples {
  readonly faces: SpotList;
  readonly edges: SpotList;
  readonly verts: SpotList;
  /** By triangle: length times outward angle of the edges counted with it, mm; rims on the board up to the board's plane. */
  readonly wedgeMm: Float32Array;
  /** Solid angle of all the vertices' cones, sr. */
  readonly coneSr: number;
  /** No reach is longer, mm. */
  readonly farthestMm: number;
}

export interface SpotList {
  readonly count: number;
  /** count x 3, mm: on S, and unit outward. */
  readonly points: Float64Array;
  readonly directions: Float64Array;
  /** Triangle of the scan. */
  readonly tri: Int32Array;
  /** How far along the direction the spot is still the nearest point of S, and above the board, mm. */
  readonly reachMm: Float64Array;
}

/** Spots of each kind: the whole is known to within some 1 %, in a tenth of a second. Own choice. */
const FACE_SPOTS = 2000;
const EDGE_SPOTS = 1600;
/** Many, because most are closed off by a neighbour before anything is asked. */
const VERT_SPOTS = 12_000;
/** The cones are wider than the faces' normals by this, since over a saddle the nearest directions lie beyond them. */
const CONE_ROOM = 1.3;
/** Edges that bend less are flat: rounding, not form. Radians. */
const LEAST_BEND_RAD = 1e-7;

/**
 * Own; the same spots every time.
 *
 * @param surface may be asked for nothing else meanwhile.
 * Cost: two looks at every edge, and some 5000 nearest-point questions.
 */
export async function sampleReach(
  surface: SurfaceContext,
  farthestMm: number,
  cp: Checkpoint,
): Promise<ReachSamples> {
  const random = evenNumbers();
  const { triCount, isSurface } = surface;
  const normals = new Float64Array(3 * triCount);
  const areas = new Float64Array(triCount);
  const normal = new Float64Array(3);
  for (let t = 0; t < triCount; t++) {
    const twice = writeTriNormal(surface, t, normal);
    if (!isSurface[t] || twice === 0) continue;
    areas[t] = twice / 2;
    for (let k = 0; k < 3; k++) normals[3 * t + k] = normal[k] / twice;
  }
  await cp.pause(0.1);
  const { bendRad, weights, byTri } = measureWedges(surface, normals);
  await cp.pause(0.2);
  const cones = measureCones(surface, normals);
  await cp.pause(0.3);

  const faces = spread(areas, FACE_SPOTS, farthestMm, random, (n, t, out) => {
    placeOnFace(surface, normals, t, random(), random(), out, n);
    out.tri[n] = t;
  });
  const edges = spread(weights, EDGE_SPOTS, farthestMm, random, (n, h, out) => {
    placeOnEdge(surface, normals, bendRad, h, random(), random(), out, n);
    out.tri[n] = (h / 3) | 0;
  });
  const vertOf = new Int32Array(VERT_SPOTS).fill(-1);
  const verts = spread(cones.weights, VERT_SPOTS, farthestMm, random, (n, v, out) => {
    placeOnVertex(surface, cones, v, random(), random(), out, n);
    vertOf[n] = v;
  });
  if (verts.count > 0) closeOffRising(surface, vertOf, verts);
  let done = 0;
  const total = faces.count + edges.count + verts.count;
  for (const spots of [faces, edges, verts]) {
    for (let n = 0; n < spots.count; n++, done++) {
      if (spots.reachMm[n] > 0) {
        spots.reachMm[n] = measureReach(surface, spots.points, spots.directions, n, spots.reachMm[n]);
      }
      if (cp.due()) await cp.pause(0.4 + (0.6 * done) / total);
    }
  }
  const coneSr = cones.weights.reduce((sum, sr) => sum + sr, 0);
  return { faces, edges, verts, wedgeMm: byTri, coneSr, farthestMm };
}

/**
 * By half-edge the length times the angle by which the surface bends outward there; only at one of an edge's two, and 0
 * where it bends inward. At the rim: the angle up to the board's plane, for what leans upward.
 */
function measureWedges(
  surface: SurfaceContext,
  n: Float64Array,
): { bendRad: Float32Array; weights: Float64Array; byTri: Float32Array } {
  const { positions: p, indices, links, isSurface, triCount, isOnRim } = surface;
  const bendRad = new Float32Array(3 * triCount);
  const weights = new Float64Array(3 * triCount);
  const byTri = new Float32Array(triCount);
  for (let h = 0; h < 3 * triCount; h++) {
    const t = (h / 3) | 0;
    const o = links[h];
    if (!isSurface[t] || (o >= 0 && o < h)) continue;
    const a = indices[h];
    const b = indices[nextHalf(h)];
    const ux = p[3 * b] - p[3 * a];
    const uy = p[3 * b + 1] - p[3 * a + 1];
    const uz = p[3 * b + 2] - p[3 * a + 2];
    const length = Math.sqrt(ux * ux + uy * uy + uz * uz);
    let angle = 0;
    if (o < 0) {
      if (surface.standsOnBoard && isOnRim[a] && isOnRim[b])
        angle = Math.asin(Math.max(-1, Math.min(1, n[3 * t + 2])));
    } else {
      const s = (o / 3) | 0;
      const cx = n[3 * t + 1] * n[3 * s + 2] - n[3 * t + 2] * n[3 * s + 1];
      const cy = n[3 * t + 2] * n[3 * s] - n[3 * t] * n[3 * s + 2];
      const cz = n[3 * t] * n[3 * s + 1] - n[3 * t + 1] * n[3 * s];
      // Most of what does not bend outward is known by the sine alone.
      const sine = length > 0 ? (cx * ux + cy * uy + cz * uz) / length : 0;
      if (sine < 0) continue;
      const cosine = n[3 * t] * n[3 * s] + n[3 * t + 1] * n[3 * s + 1] + n[3 * t + 2] * n[3 * s + 2];
      angle = Math.atan2(sine, cosine);
    }
    if (angle <= LEAST_BEND_RAD) continue;
    bendRad[h] = angle;
    weights[h] = length * angle;
    byTri[t] += weights[h];
  }
  return { bendRad, weights, byTri };
}

const nextHalf = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);

/** A cone of directions round each vertex's normal, wide enough for all in which the vertex itself may be the nearest point. */
interface VertexCones {
  /** n x 3, unit; zero where a vertex has no faces. */
  readonly axes: Float64Array;
  /** Of half the opening; 1 where S ends, whose share is in the rim's wedges. */
  readonly cosines: Float32Array;
  /** Solid angle, sr. */
  readonly weights: Float64Array;
}

function measureCones(surface: SurfaceContext, n: Float64Array): VertexCones {
  const { indices, links, isSurface, triCount, vertCount } = surface;
  const axes = new Float64Array(3 * vertCount);
  const cosines = new Float32Array(vertCount).fill(1);
  const weights = new Float64Array(vertCount);
  const isBorder = new Uint8Array(vertCount);
  for (let h = 0; h < 3 * triCount; h++) {
    const t = (h / 3) | 0;
    if (!isSurface[t]) continue;
    const v = indices[h];
    axes[3 * v] += n[3 * t];
    axes[3 * v + 1] += n[3 * t + 1];
    axes[3 * v + 2] += n[3 * t + 2];
    if (links[h] >= 0) continue;
    isBorder[v] = 1;
    isBorder[indices[nextHalf(h)]] = 1;
  }
  for (let v = 0; v < vertCount; v++) {
    const x = axes[3 * v];
    const y = axes[3 * v + 1];
    const z = axes[3 * v + 2];
    const length = Math.sqrt(x * x + y * y + z * z);
    if (length === 0) continue;
    axes[3 * v] = x / length;
    axes[3 * v + 1] = y / length;
    axes[3 * v + 2] = z / length;
  }
  for (let h = 0; h < 3 * triCount; h++) {
    const t = (h / 3) | 0;
    if (!isSurface[t]) continue;
    const v = indices[h];
    const cosine = axes[3 * v] * n[3 * t] + axes[3 * v + 1] * n[3 * t + 1] + axes[3 * v + 2] * n[3 * t + 2];
    if (cosine < cosines[v]) cosines[v] = cosine;
  }
  for (let v = 0; v < vertCount; v++) {
    const angle = isBorder[v] ? 0 : Math.min(Math.PI, CONE_ROOM * Math.acos(Math.max(-1, cosines[v])));
    cosines[v] = Math.cos(angle);
    weights[v] = angle > LEAST_BEND_RAD ? 2 * Math.PI * (1 - cosines[v]) : 0;
  }
  return { axes, cosines, weights };
}

/** Even over the cone: heights along its axis are even. */
function placeOnVertex(
  { positions: p }: SurfaceContext,
  { axes, cosines }: VertexCones,
  v: number,
  s: number,
  turn: number,
  out: SpotList,
  n: number,
): void {
  const cosine = 1 - s * (1 - cosines[v]);
  const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
  const d = axes.subarray(3 * v, 3 * v + 3);
  const least = Math.abs(d[0]) < 0.6 ? 0 : 1;
  const u = [0, 0, 0];
  u[least] = 1;
  const along = d[least];
  for (let k = 0; k < 3; k++) u[k] -= along * d[k];
  const length = Math.hypot(u[0], u[1], u[2]);
  const w = [
    (d[1] * u[2] - d[2] * u[1]) / length,
    (d[2] * u[0] - d[0] * u[2]) / length,
    (d[0] * u[1] - d[1] * u[0]) / length,
  ];
  const x = sine * Math.cos(2 * Math.PI * turn);
  const y = sine * Math.sin(2 * Math.PI * turn);
  for (let k = 0; k < 3; k++) {
    out.points[3 * n + k] = p[3 * v + k];
    out.directions[3 * n + k] = cosine * d[k] + (x * u[k]) / length + y * w[k];
  }
}

/** Reach 0 for the directions in which a neighbour on the mesh is nearer than the vertex: along an edge the surface rises. */
function closeOffRising(surface: SurfaceContext, verts: Int32Array, spots: SpotList): void {
  const { positions: p, indices, isSurface, triCount } = surface;
  // By vertex: its last spot and, from there, those before it.
  const lastSpot = new Int32Array(p.length / 3).fill(-1);
  const spotBefore = new Int32Array(verts.length).fill(-1);
  for (let n = 0; n < verts.length; n++) {
    if (verts[n] < 0) continue;
    spotBefore[n] = lastSpot[verts[n]];
    lastSpot[verts[n]] = n;
  }
  for (let h = 0; h < 3 * triCount; h++) {
    const last = lastSpot[indices[h]];
    const t = (h / 3) | 0;
    if (last < 0 || !isSurface[t]) continue;
    const a = 3 * indices[h];
    for (const other of [nextHalf(h), nextHalf(nextHalf(h))]) {
      const b = 3 * indices[other];
      for (let n = last; n >= 0; n = spotBefore[n]) {
        spots.tri[n] = t;
        const rise =
          (p[b] - p[a]) * spots.directions[3 * n] +
          (p[b + 1] - p[a + 1]) * spots.directions[3 * n + 1] +
          (p[b + 2] - p[a + 2]) * spots.directions[3 * n + 2];
        if (rise > 0) spots.reachMm[n] = 0;
      }
    }
  }
}

/** `count` spots on the items, each item as often as its weight asks for, evenly along the list; none where nothing weighs. */
function spread(
  weights: Float64Array,
  count: number,
  farthestMm: number,
  random: () => number,
  place: (n: number, item: number, out: SpotList) => void,
): SpotList {
  let total = 0;
  for (let i = 0; i < weights.length; i++) total += weights[i];
  const made = total > 0 ? count : 0;
  const out: SpotList = {
    count: made,
    points: new Float64Array(3 * made),
    directions: new Float64Array(3 * made),
    tri: new Int32Array(made),
    reachMm: new Float64Array(made).fill(farthestMm),
  };
  const step = total / count;
  let next = random() * step;
  let passed = 0;
  let last = 0;
  let n = 0;
  for (let i = 0; i < weights.length && n < made; i++) {
    passed += weights[i];
    if (weights[i] > 0) last = i;
    while (n < made && next < passed) {
      place(n++, i, out);
      next = (n + random()) * step;
    }
  }
  // Rounding of the sum may leave the very last one over.
  while (n < made) place(n++, last, out);
  return out;
}

function placeOnFace(
  { positions: p, indices }: SurfaceContext,
  normals: Float64Array,
  t: number,
  s: number,
  r: number,
  out: SpotList,
  n: number,
): void {
  const root = Math.sqrt(s);
  const weights = [1 - root, root * (1 - r), root * r];
  for (let k = 0; k < 3; k++) {
    let x = 0;
    for (let corner = 0; corner < 3; corner++) x += weights[corner] * p[3 * indices[3 * t + corner] + k];
    out.points[3 * n + k] = x;
    out.directions[3 * n + k] = normals[3 * t + k];
  }
}

function placeOnEdge(
  surface: SurfaceContext,
  normals: Float64Array,
  bendRad: Float32Array,
  h: number,
  along: number,
  turn: number,
  out: SpotList,
  n: number,
): void {
  const { positions: p, indices } = surface;
  const t = (h / 3) | 0;
  const a = 3 * indices[h];
  const b = 3 * indices[h % 3 === 2 ? h - 2 : h + 1];
  const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const length = Math.hypot(u[0], u[1], u[2]);
  const nx = normals[3 * t];
  const ny = normals[3 * t + 1];
  const nz = normals[3 * t + 2];
  // The normal turned about the edge, over it and away from its own triangle.
  const side = [
    (u[1] * nz - u[2] * ny) / length,
    (u[2] * nx - u[0] * nz) / length,
    (u[0] * ny - u[1] * nx) / length,
  ];
  const angle = turn * bendRad[h];
  const cosine = Math.cos(angle);
  const sine = Math.sin(angle);
  for (let k = 0; k < 3; k++) {
    out.points[3 * n + k] = p[a + k] + along * u[k];
    out.directions[3 * n + k] = cosine * normals[3 * t + k] + sine * side[k];
  }
}

/** Numbers from 0 to 1, the same at every start: a linear congruence modulo 2^32 (constants of Numerical Recipes, from memory). */
function evenNumbers(): () => number {
  let state = 0x5c07e;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}
